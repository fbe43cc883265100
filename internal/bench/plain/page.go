package main

import "stopleaf/internal/bench/plainly"

// pages is a single blank page until the benchmark builds this program with a
// page.go of its own in place of this file.
var pages = []plainly.Page{{W: 210, H: 148}}
