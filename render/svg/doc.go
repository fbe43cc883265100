// Package svg translates finished pages; it decides nothing about them.
package svg
