// Package text is the one measurer of text: it holds the embedded fonts, tells
// how wide a string is at a cap height, breaks lines, and gives glyph outlines
// to back ends that cannot embed a font.
//
// Widths are the sum over runes of round(advance*1000/unitsPerEm), without
// kerning, which is what the PDF writer does to the last unit; a back end must
// place text by the widths given here and never measure for itself.
package text
