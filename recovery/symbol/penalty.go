package symbol

// penalty is how hard a mask makes a code to read, by ISO/IEC 18004 (data masking,
// evaluation): runs of five alike or more, squares of two, what looks like the eye of
// a finder pattern beside four light modules, and dark ones far from half of all.
func penalty(dark []bool, n int) int {
	sum, total := 0, 0
	for y := range n {
		sum += line(dark[y*n:], 1, n)
	}
	for x := range n {
		sum += line(dark[x:], n, n)
	}
	for y := range n {
		row := dark[y*n : y*n+n]
		for x, d := range row {
			if d {
				total++
			}
			if x > 0 && y > 0 && row[x-1] == d && dark[(y-1)*n+x] == d && dark[(y-1)*n+x-1] == d {
				sum += 3
			}
		}
	}
	off := total*20 - n*n*10 // twenty times the modules too many
	if off < 0 {
		off = -off
	}
	return sum + off/(n*n)*10
}

// eye is 1:1:3:1:1, as bits of seven modules.
const eye = 0b1011101

// line counts what is wrong in one row or column. What is beyond its ends is light, for
// there is the quiet zone.
func line(dark []bool, step, n int) int {
	sum, run, last := 0, 0, 0 // the last modules, a bit each, the latest the lowest
	was := false
	for i, at := 0, 0; i < n+Quiet; i, at = i+1, at+step {
		last <<= 1
		d := i < n && dark[at]
		if d {
			last |= 1
		}
		if last>>4&0x7F == eye && (last&0xF == 0 || last>>11&0xF == 0) {
			sum += 40
		}
		if i == 0 || d != was || i >= n {
			was, run = d, 1
			continue
		}
		run++
		switch {
		case run == 5:
			sum += 3
		case run > 5:
			sum++
		}
	}
	return sum
}
