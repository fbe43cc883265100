package grammar

// binder is the table of a binder.yaml.
var binder = []Object{
	{Name: "binder", Doc: "how many setups are printed as one binder", Keys: []Key{
		{Name: "title", Takes: Text, Doc: "on the cover"},
		{Name: "owner", Also: []string{"by"}, Takes: Text, Doc: "whose it is; that of the first setup unless said"},
		{Name: "sections", Takes: List, Items: Map, Of: "section", Doc: "its parts, each behind a divider; what is in none comes last"},
		{Name: "order", Takes: Text, As: Word, Words: []string{"code", "title", "date", "hand"}, Doc: "of the setups in a section: by code unless said; hand is as they are listed"},
		{Name: "paper", Takes: Text, As: Word, Words: []string{"a4", "letter"}, Doc: "what it is printed on"},
		{Name: "duplex", Takes: Text, As: YesNo, Doc: "printed on both sides"},
		{Name: "holes", Takes: Text, As: Word, Words: []string{"2", "3", "4", "none"}, Doc: "the filing holes that its margin is kept clear for"},
		{Name: "as", Takes: Text, As: Word, Words: []string{"sheet", "card"}, Doc: "how each setup is printed"},
	}},
	{Name: "section", Doc: "a part of a binder", Keys: []Key{
		{Name: "title", Takes: Text, Needed: true, Doc: "on its divider"},
		{Name: "setups", Also: []string{"setup"}, Takes: Text | List, Items: Text, Doc: "those in it: a file or a folder, from the folder of the binder.yaml, or a code"},
		{Name: "tags", Also: []string{"tag"}, Takes: Text | List, Items: Text, Doc: "and every setup with one of these tags that no section names"},
	}},
}
