// Package dump translates finished pages; it decides nothing about them.
package dump
