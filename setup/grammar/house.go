package grammar

// Papers are the papers a house may have; the built-in cards are made for each.
var Papers = []string{"a5", "a4", "a6", "letter", "half-letter", "4x6", "5x8"}

// house is the table of the house file.
var house = []Object{
	{Name: "house", Doc: "what holds for every setup under a folder", Keys: []Key{
		{Name: "by", Also: []string{"owner"}, Takes: Text, Doc: "the owner, for setups that name none"},
		{Name: "paper", Takes: Text, As: Word, Words: Papers, Doc: "what pages are printed on"},
		{Name: "units", Takes: Text, As: Word, Words: []string{"m", "cm", "ft", "in"}, Doc: "what a bare length is in, in setups that do not say"},
		{Name: "bases", Takes: Text | List, Items: Text, As: Reading, Doc: "the bases of setups that name none"},
		{Name: "readings", Takes: Text, As: Word, Words: []string{"tenths", "decimal"}, Doc: "whether 8.5 in a setup is f/8 and five tenths, or f/8.5"},
		{Name: "printed readings", Takes: Text, As: Word, Words: []string{"tenths", "thirds", "decimal"}, Doc: "how readings are printed: f/8 +0.4, f/9 or f/9.2"},
		{Name: "language", Takes: Text, As: Word, Words: []string{"en", "de", "fr", "es"}, Doc: "of the pages"},
		{Name: "bag", Takes: Text, As: Number, Unit: "kg", Doc: "what one bag weighs, 7 kg unless said"},
		{Name: "dpi", Takes: Text, As: Number, Unit: "dpi", Doc: "dots an inch of pictures of pages, 200 unless said"},
		{Name: "photo resolution", Takes: Text, As: Number, Unit: "dpi", Doc: "dots an inch that photos keep on a page, 300 unless said"},
		{Name: "always", Takes: List, Items: Text, Doc: "what is packed for every shoot"},
	}},
}
