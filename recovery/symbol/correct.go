package symbol

import "rsc.io/qr/coding"

// correct corrects a block of a Reed-Solomon code over GF(256) in place, with check
// bytes at its end, whose generator has the roots a^0 to a^(check-1) (ISO/IEC 18004,
// error correction). lost are places known to be unsure; of e others that are wrong
// and f lost, 2e+f <= check can be corrected. Syndromes, the key equation after
// Berlekamp and Massey with the lost places in it from the start, roots by trial
// (Chien), magnitudes after Forney. It gives false and leaves the block alone where
// there are more.
func correct(block []byte, lost []int, check int) bool {
	gf := coding.Field
	syndromes := make([]byte, check)
	clean := true
	for i := range syndromes {
		s, x := byte(0), gf.Exp(i)
		for _, b := range block {
			s = gf.Mul(s, x) ^ b
		}
		syndromes[i] = s
		clean = clean && s == 0
	}
	if clean {
		return true
	}
	locator := errorLocator(syndromes, lost, len(block))
	degree := len(locator) - 1
	for degree > 0 && locator[degree] == 0 {
		degree--
	}
	if f := len(lost); 2*(degree-f)+f > check || degree < f {
		return false
	}
	// The evaluator: syndromes x locator, cut at the check bytes.
	evaluator := make([]byte, check)
	for i := range evaluator {
		for j := 0; j <= min(i, degree); j++ {
			evaluator[i] ^= gf.Mul(locator[j], syndromes[i-j])
		}
	}
	type fix struct {
		at int
		by byte
	}
	var fixes []fix
	for i := range block {
		power := len(block) - 1 - i // the place's power of a
		inv := gf.Exp(255 - power%255)
		if poly(locator[:degree+1], inv) != 0 {
			continue
		}
		slope := byte(0) // the locator's derivative: its odd powers
		for j := 1; j <= degree; j += 2 {
			slope ^= gf.Mul(locator[j], power255(inv, j-1))
		}
		if slope == 0 {
			return false
		}
		by := gf.Mul(gf.Mul(poly(evaluator, inv), gf.Inv(slope)), gf.Exp(power%255))
		fixes = append(fixes, fix{i, by})
	}
	if len(fixes) != degree {
		return false
	}
	for _, f := range fixes {
		block[f.at] ^= f.by
	}
	for i := range check {
		s, x := byte(0), gf.Exp(i)
		for _, b := range block {
			s = gf.Mul(s, x) ^ b
		}
		if s != 0 {
			for _, f := range fixes {
				block[f.at] ^= f.by
			}
			return false
		}
	}
	return true
}

// errorLocator is the polynomial, its least power first, whose roots are the inverses of
// the places that are wrong or lost.
func errorLocator(syndromes []byte, lost []int, n int) []byte {
	gf := coding.Field
	check := len(syndromes)
	cur := make([]byte, check+2)
	cur[0] = 1
	for _, at := range lost { // x (1 + a^place x)
		x := gf.Exp((n - 1 - at) % 255)
		for j := len(cur) - 1; j > 0; j-- {
			cur[j] ^= gf.Mul(cur[j-1], x)
		}
	}
	old := append([]byte(nil), cur...)
	next := make([]byte, len(cur))
	length := len(lost)
	for r := len(lost); r < check; r++ {
		gap := byte(0)
		for j := 0; j <= min(r, len(cur)-1); j++ {
			gap ^= gf.Mul(cur[j], syndromes[r-j])
		}
		copy(old[1:], old[:len(old)-1]) // x times
		old[0] = 0
		if gap == 0 {
			continue
		}
		for j := range next {
			next[j] = cur[j] ^ gf.Mul(gap, old[j])
		}
		if 2*length <= r+len(lost) {
			inv := gf.Inv(gap)
			for j := range old {
				old[j] = gf.Mul(cur[j], inv)
			}
			length = r + 1 + len(lost) - length
		}
		copy(cur, next)
	}
	return cur
}

// poly is a polynomial, its least power first, at x.
func poly(p []byte, x byte) byte {
	sum := byte(0)
	for i := len(p) - 1; i >= 0; i-- {
		sum = coding.Field.Mul(sum, x) ^ p[i]
	}
	return sum
}

func power255(x byte, n int) byte {
	out := byte(1)
	for ; n > 0; n-- {
		out = coding.Field.Mul(out, x)
	}
	return out
}
