// Package apex parses and prints what meters, cameras and heads show: aperture
// marks, exposure times, film speeds, differences in stops, power marks. Every
// value becomes an exact APEX step before it is added to anything.
//
// It belongs here when it turns one notation into a number or back. Lengths
// and places do not (package setup); neither does any computation over a whole
// setup (package exposure).
package apex
