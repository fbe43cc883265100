package layout

import (
	"sync"

	"stopleaf/recovery"
	"stopleaf/recovery/symbol"
	"stopleaf/setup"
)

// Code is a QR code (ISO/IEC 18004). Its box is a square of whole modules, with the
// quiet zone of symbol.Quiet modules on each side inside it.
type Code struct {
	Rect
	Modules *symbol.Matrix
	Alt     string
}

func (*Code) item() {}

// Side is how many modules are on a side of its box, the quiet zone with them.
func (c *Code) Side() int { return c.Modules.Size + 2*symbol.Quiet }

// Dark says whether a module of its box is: x to the right, y down from the top left.
func (c *Code) Dark(x, y int) bool {
	x, y = x-symbol.Quiet, y-symbol.Quiet
	return min(x, y) >= 0 && max(x, y) < c.Modules.Size && c.Modules.Dark(x, y)
}

// codeModule is the side of a module on paper: what a phone and a flatbed at 200 dpi
// still tell apart.
const codeModule = Um(400)

// codeSide is the side of a code on paper, with its quiet zone.
func codeSide(m *symbol.Matrix) Um { return Um(m.Size+2*symbol.Quiet) * codeModule }

// codeSet is what the codes of one setup are.
type codeSet struct {
	marks []*symbol.Matrix
	print recovery.Fingerprint // of what they hold
	err   error                // it is too long for any number of them
}

// codeKind is which codes: how wide each may be, and what they leave out.
type codeKind struct {
	most    int // modules a side
	without setup.Without
}

// codes draws the codes of the setup, each no wider than side; once for each kind.
func (s *Source) codes(side Um, without setup.Without) *codeSet {
	kind := codeKind{most: int(side/codeModule) - 2*symbol.Quiet, without: without}
	made, ok := s.drawn.Load(kind)
	if !ok {
		made, _ = s.drawn.LoadOrStore(kind, sync.OnceValue(func() *codeSet { return s.drawCodes(kind) }))
	}
	return made.(func() *codeSet)()
}

func (s *Source) drawCodes(kind codeKind) *codeSet {
	canonical := s.Canonical
	if kind.without != setup.Nothing {
		canonical = s.setup.Canonical(kind.without)
	}
	set := &codeSet{print: recovery.FingerprintOf(canonical)}
	texts, err := recovery.Texts(canonical, symbol.Room(kind.most))
	if err != nil {
		set.err = err
		return set
	}
	least := 0 // the last of several may be shorter, and is drawn as large
	for _, text := range texts {
		m, err := symbol.Between(text, least, kind.most)
		if err != nil {
			return &codeSet{print: set.print, err: err}
		}
		least = max(least, m.Size)
		set.marks = append(set.marks, m)
	}
	return set
}
