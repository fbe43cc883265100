// Package recovery turns a setup into the text of the codes that stand on paper
// (ISO/IEC 18004), and such a text back into the setup.
//
// It belongs here when it is about what a code says: the canonical file, its
// compression, checksum, alphabet and parts. How a code is drawn belongs to
// package layout; where texts are found in files and pictures to the packages
// under this one.
//
// Version 1 of a code is frozen: paper lives longer than programs. What it is, from
// the outside in:
//
//	text     "STOPLEAF:" and the payload in Base45 (RFC 9285), or for one of several
//	         codes "STOPLEAF 2/3 0A1B2C3D:" (part, parts, fingerprint) and its share
//	payload  one byte of version, 1; the fingerprint, 4 bytes; the canonical file,
//	         deflated (RFC 1951) with dictionary1.txt before it
//	fingerprint  the first four bytes of SHA-256 of the canonical file
package recovery
