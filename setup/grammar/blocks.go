package grammar

import "slices"

// Documents are those that are made from a page format; one that does not say
// is for the first.
var Documents = []string{"card", "sheet", "stands"}

// Block is one named part of a page.
type Block struct {
	Name  string
	For   []string // the documents it stands on
	Wide  float64  // the least width it is given, millimetres
	Grows bool     // a picture or drawing, of which a least height may be asked
	As    []string // what else it may be called, where it has another form
	Doc   string
}

// Blocks are the parts that a page format may name.
var Blocks = []Block{
	{Name: "photo", For: []string{"card", "sheet"}, Wide: 20, Grows: true, Doc: "the photograph of the result"},
	{Name: "plan", For: Documents, Wide: 35, Grows: true, Doc: "the set from above, to scale"},
	{Name: "side", For: []string{"card", "sheet"}, Wide: 35, Grows: true, Doc: "the set from the side, where that tells something"},
	{Name: "lights", For: []string{"card", "sheet"}, Wide: 45, As: []string{"lights", "targets", "places"}, Doc: "a table of lights, its fields under columns"},
	{Name: "camera", For: []string{"card", "sheet"}, Wide: 25, Doc: "the camera, its lens and the frame"},
	{Name: "sums", For: []string{"card"}, Wide: 25, Doc: "ratios, base range, what burns on"},
	{Name: "cautions", For: Documents, Wide: 25, Doc: "what can hurt someone; on every first side"},
	{Name: "notes", For: []string{"card", "sheet"}, Wide: 25, Doc: "the file's notes"},
	{Name: "rulers", For: []string{"card", "sheet"}, Wide: 35, Doc: "stops to count along"},

	{Name: "build", For: []string{"sheet"}, Wide: 45, Doc: "the build order, with boxes to tick"},
	{Name: "today", For: []string{"sheet"}, Wide: 60, Doc: "a table of lights with spaces for today's readings and dials"},
	{Name: "bases", For: []string{"sheet"}, Wide: 45, Doc: "the camera at each base: stop, depth of field, ambient"},
	{Name: "set", For: []string{"sheet"}, Wide: 25, Doc: "ratios, base range in words, what burns on"},
	{Name: "kit", For: []string{"sheet"}, Wide: 45, Doc: "what to pack, with boxes to tick"},
	{Name: "circuits", For: []string{"sheet"}, Wide: 45, Doc: "what each circuit carries"},
	{Name: "photos", For: []string{"sheet"}, Wide: 35, Doc: "the other photographs of the set"},
	{Name: "strike", For: []string{"sheet"}, Wide: 45, Doc: "the strike order, with boxes to tick"},

	{Name: "stand-head", For: []string{"stands"}, Wide: 45, Doc: "number and name, and how it stands to the key; on every first side"},
	{Name: "stand-today", For: []string{"stands"}, Wide: 45, As: []string{"stand-bases"}, Doc: "today's target and dial; as: stand-bases with the other bases under them; on every first side"},
	{Name: "stand-bases", For: []string{"stands"}, Wide: 30, Doc: "the other bases"},
	{Name: "stand-place", For: []string{"stands"}, Wide: 30, Doc: "where it stands, how high, where it looks"},
	{Name: "stand-setting", For: []string{"stands"}, Wide: 30, Doc: "modifier, meter, head, stand, trigger, circuit"},
	{Name: "stand-note", For: []string{"stands"}, Wide: 25, Doc: "the file's note on it"},
}

// FindBlock gives the block of that name, or nil.
func FindBlock(name string) *Block {
	for i := range Blocks {
		if Blocks[i].Name == name {
			return &Blocks[i]
		}
	}
	return nil
}

// BlockNames are the blocks of a document, all for "".
func BlockNames(document string) []string {
	var out []string
	for i := range Blocks {
		if b := &Blocks[i]; document == "" || slices.Contains(b.For, document) {
			out = append(out, b.Name)
		}
	}
	return out
}

// LightFields are the fields that a column of a table of lights may hold;
// "target" and "dial" make one column for each base.
var LightFields = []string{
	"number", "light", "name", "modifier", "difference", "meter", "target", "dial", "place", "measure", "clock",
	"height", "aim", "throw", "looks", "drift", "falloff", "mark", "circuit",
}

// TodayFields are columns of spaces to fill in: what each light reads today, and
// where its dial is set.
var TodayFields = []string{"reads", "set"}

// StripFields are the fields of the title block.
var StripFields = []string{"title", "owner", "date", "scale", "units", "recorded", "code", "sheet"}

// CutSheets are the papers that cards are cut from, by name.
var CutSheets = []string{"a4", "letter"}

// never are the words that are never left out: without them nothing can be built
// again, or someone may be hurt.
var never = []string{"lights", "cautions", "number", "name", "light", "difference", "target", "stand-head", "stand-today"}

// PageWords are the words that a page format for a document may have under a
// key; nil where any will do.
func PageWords(document, key string) []string {
	switch key {
	case "for":
		return Documents
	case "block":
		return BlockNames(document)
	case "as", "give":
		return named(document, key == "give")
	case "strip", "strip next":
		return StripFields
	case "columns":
		if document == "sheet" {
			return slices.Concat(LightFields, TodayFields)
		}
		return LightFields
	case "filler":
		return []string{"rulers"}
	case "leave out":
		words := BlockNames(document)
		if document != "stands" {
			words = slices.Concat(words, LightFields)
		}
		return slices.DeleteFunc(words, func(w string) bool { return slices.Contains(never, w) })
	case "sheet":
		return CutSheets
	}
	return nil
}

// named are the other names of a document's blocks, after their own names where
// those are wanted.
func named(document string, own bool) []string {
	var out []string
	for i := range Blocks {
		b := &Blocks[i]
		if !slices.Contains(b.For, document) {
			continue
		}
		for _, n := range append([]string{b.Name}, b.As...) {
			if (own || n != b.Name || slices.Contains(b.As, n)) && !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}
