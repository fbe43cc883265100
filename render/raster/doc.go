// Package raster translates finished pages; it decides nothing about them.
package raster
