// Package pdf translates finished pages; it decides nothing about them.
package pdf
