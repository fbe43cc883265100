// Command stopleaf writes down a lighting setup and prints what rebuilds it.
package main

func main() {}
