// Command empty does nothing: what it costs to start a Go program at all.
package main

func main() {}
