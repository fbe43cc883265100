package main

// pages is a single blank page until the benchmark builds this program with a
// page.go of its own in place of this file.
var pages = []page{{w: 210, h: 148}}
