package grammar

import "slices"

// format is the table of a page format. The words that it knows are those of
// PageWords, by the document it is for.
var format = []Object{
	{Name: "format", Doc: "a page format: a paper, its type sizes and the arrangements of blocks tried on it", Keys: []Key{
		{Name: "name", Takes: Text, Doc: "what it is called; the file's name unless said"},
		{Name: "for", Takes: Text, As: Word, Words: Documents, Doc: "what is made from it: card (unless said), sheet or stands"},
		{Name: "width", Takes: Text, As: Millimetres, Needed: true, Doc: "of the paper, 210 or 210 mm"},
		{Name: "height", Takes: Text, As: Millimetres, Needed: true, Doc: "of the paper, 148 or 148 mm"},
		{Name: "margin", Takes: Text, As: Millimetres, Doc: "kept clear of all ink"},
		{Name: "frame", Takes: Text, As: YesNo, Doc: "a line around the page; yes unless said, but on stand cards"},
		{Name: "gap", Takes: Text, As: Millimetres, Doc: "between blocks"},
		{Name: "recovery", Takes: Text, As: Millimetres, Doc: "how wide a code that holds the setup may be, 45 unless said; a longer setup has several"},
		{Name: "type", Takes: Map, Of: "type", Doc: "cap heights: {text: 2.5, target: 3.5, title: 5, code: 7, balloon: 3.5}"},
		{Name: "strip", Takes: Text | List, Items: Text, As: Word, Doc: "fields of the title block on the first side"},
		{Name: "strip next", Takes: Text | List, Items: Text, As: Word, Doc: "and on further sides"},
		{Name: "sheet", Takes: Text | Map, Of: "cut-sheet", As: Word, For: []string{"stands"}, Doc: "the paper that cards are laid out on, to be cut apart: a4, letter, or its size"},
		{Name: "sides", Takes: List, Needed: true, Items: Text | Map, Of: "part", As: Word, Doc: "arrangements of the first side; the first on which everything fits is taken"},
		{Name: "next", Takes: List, Items: Text | Map, Of: "part", As: Word, Doc: "the order of what stands on further sides"},
		{Name: "filler", Takes: Text | List, Items: Text, As: Word, For: []string{"card", "sheet"}, Doc: "what goes on the last side where there is room"},
		{Name: "leave out", Takes: Text | List, Items: Text, As: Word, Doc: "what is never printed"},
	}},
	{Name: "type", Doc: "cap heights of a page format", Keys: []Key{
		{Name: "text", Takes: Text, As: Millimetres, Doc: "names, figures, cautions"},
		{Name: "target", Takes: Text, As: Millimetres, Doc: "the targets in the table of lights; today's on a stand card, 10 at least"},
		{Name: "title", Takes: Text, As: Millimetres, Doc: "the title"},
		{Name: "code", Takes: Text, As: Millimetres, Doc: "the code"},
		{Name: "balloon", Takes: Text, As: Millimetres, Doc: "numbers on the drawing"},
	}},
	{Name: "cut-sheet", Doc: "a paper that cards are cut from, upright", Keys: []Key{
		{Name: "width", Takes: Text, As: Millimetres, Needed: true, Doc: "its shorter side, 210"},
		{Name: "height", Takes: Text, As: Millimetres, Needed: true, Doc: "its longer side, 297"},
		{Name: "margin", Takes: Text, As: Millimetres, Doc: "from its edge to the outermost cards, 8 unless said; the cut marks stand in it"},
		{Name: "across", Takes: Text, As: Number, Doc: "cards beside each other; as many as go on it unless said"},
		{Name: "down", Takes: Text, As: Number, Doc: "cards one below the other; as many as go on it unless said"},
	}},
	{Name: "part", Doc: "a block, or blocks across or down", Keys: []Key{
		{Name: "block", Takes: Text, As: Word, Doc: "its name"},
		{Name: "as", Takes: Text, As: Word, Doc: "another form of a block: lights as targets or places, stand-today as stand-bases"},
		{Name: "across", Takes: List, Items: Text | Map, Of: "part", As: Word, Doc: "blocks beside each other"},
		{Name: "down", Takes: List, Items: Text | Map, Of: "part", As: Word, Doc: "blocks one below the other"},
		{Name: "width", Takes: Text, As: Millimetres, Doc: "of a block in a row; else it shares what is left"},
		{Name: "share", Takes: Text, As: Number, Doc: "how much of what is left, 1 unless said"},
		{Name: "least", Takes: Text, As: Millimetres, Doc: "the least height of a picture or drawing"},
		{Name: "columns", Takes: List, Items: Text | List, As: Word, For: []string{"card", "sheet"}, Doc: "of a table of lights: [[number], [light, modifier], [target, dial]]"},
		{Name: "short", Takes: Text, As: YesNo, Doc: "cautions in their short form"},
		{Name: "run", Takes: Text, As: YesNo, Doc: "cautions in full, one after another on a line"},
		{Name: "flow", Takes: Text, As: YesNo, Doc: "of a row under next: its columns may go on on the next side, each by itself"},
		{Name: "give", Takes: Text | List, Items: Text, As: Word, Doc: "of a whole side: the blocks that may turn over, first to go first"},
	}},
}

// PageObjects gives the objects of a page format for a document: the table of
// page formats with the keys and words that it has there. The format itself
// bears the document's name, and parts are called by it: "sheet-part".
func PageObjects(document string) []Object {
	called := func(name string) string {
		switch name {
		case "format":
			return document
		case "part":
			return document + "-part"
		}
		return name
	}
	var out []Object
	for _, o := range format {
		one := Object{Name: called(o.Name), Doc: o.Doc}
		for _, k := range o.Keys {
			if k.For != nil && !slices.Contains(k.For, document) {
				continue
			}
			k.Of = called(k.Of)
			key := k.Name
			if k.Of == called("part") { // a bare name stands for a block
				key = "block"
			}
			if words := PageWords(document, key); k.As == Word && words != nil {
				k.Words = words
				if key == "block" {
					k.About = func(word string) string { return FindBlock(word).Doc }
				}
			}
			one.Keys = append(one.Keys, k)
		}
		out = append(out, one)
	}
	return out
}
