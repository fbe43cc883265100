package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"stopleaf/layout"
	"stopleaf/setup"
)

// commandTable is every command, in the order help lists them.
func commandTable() []command {
	return []command{
		{name: "card", operand: "SETUP...", least: 1, most: -1, run: runCard,
			summary: "a card to tape up: plan, lights, numbers, cautions",
			more: "SETUP is a setup file, a folder of them, or - for standard input. Several setups make one " +
				"document. Without -o the card of tuesday.yaml goes to tuesday-card.pdf in this folder, the cards " +
				"of several to cards.pdf.",
			flags: []string{"output", "dpi", "paper", "format", "base", "lang", "look", "rulers", "code", "watch", "photos", "no-source", "allow-outside", "problems"}},
		{name: "stands", operand: "SETUP...", least: 1, most: -1, papers: layout.StandPapers, run: runStands,
			summary: "a card for each light and grip item, to tape to its stand",
			more: "--paper is a6 (the usual), a5 or 4x6; on a4 and letter they are laid out four to a sheet with cut " +
				"marks, so that the cut piles laid on each other are in order. The first of --base is today's: its " +
				"targets and dials are read from two metres. Without it today's is what the key was recorded to read. " +
				"A page format of your own says itself what its cards are cut from.",
			flags: []string{"output", "dpi", "paper", "format", "base", "lang", "look", "duplex", "watch", "photos", "no-source", "allow-outside", "problems"}},
		{name: "sheet", operand: "SETUP...", least: 1, most: -1, papers: layout.SheetPapers, run: runSheet,
			summary: "the assistant's sheet: the card, then build order, today's readings, kit, strike order",
			more: "On --paper a4 (default) or letter, as many sides as it needs. Several setups make one document. " +
				"Without -o the sheet of tuesday.yaml goes to tuesday-sheet.pdf in this folder, the sheets of " +
				"several to sheets.pdf.",
			flags: []string{"output", "dpi", "paper", "format", "base", "lang", "look", "watch", "photos", "no-source", "allow-outside", "problems"}},
		{name: "binder", operand: "PATH...", least: 1, most: -1, papers: layout.SheetPapers, run: runBinder,
			summary: "many setups as a binder: contents, a sheet each, indexes, room for filing holes",
			more: "PATH is a setup file, or a folder with setups in it and in its folders. On --paper a4 (default) or " +
				"letter. Pages are numbered CODE/PAGE, so that a new setup renumbers no old one. The margin of the holes " +
				"is kept clear; with --duplex it changes sides, and each setup begins on a right-hand page. --as card " +
				"prints the sides of each setup's card two to a page. --only-changed prints what differs from an earlier binder, with the " +
				"contents and indexes, and lists on standard output which sheets to take out and where the new ones go; " +
				"the new PDF is then the earlier one of the next time. A setup with mistakes is told, and a page in its place says so; " +
				"then it ends with 1. Two setups of one code make no binder. Without -o it goes to binder.pdf.",
			flags: []string{"output", "paper", "holes", "duplex", "as", "base", "lang", "only-changed", "strict", "photos", "no-source", "allow-outside", "problems"}},
		{name: "blank", operand: "[SETUP]", most: 1, papers: layout.BlankPapers, run: runBlank,
			summary: "a form to fill in by hand, a table of stops on its back",
			more: "With SETUP its lights, modifiers and room are filled in, and readings, powers and places are ruled " +
				"spaces. --paper is a5 (the usual), a4, letter or half-letter; it has no --format. Without -o the form of tuesday.yaml goes " +
				"to tuesday-blank.pdf in this folder, one without a setup to blank.pdf.",
			flags: []string{"output", "dpi", "paper", "lang", "look", "watch", "photos", "no-source", "allow-outside", "problems"}},
		{name: "plan", operand: "SETUP", least: 1, most: 1, run: runPlan,
			summary: "the drawing alone, from above or from the side, to scale",
			more:    "Without -o the plan of tuesday.yaml goes to tuesday-plan.svg in this folder, from the side to tuesday-side.svg.",
			flags:   []string{"output", "dpi", "view", "scale", "paper", "base", "lang", "look", "watch", "photos", "no-source", "allow-outside", "problems"}},
		{name: "numbers", operand: "SETUP", least: 1, most: 1, run: runNumbers,
			summary: "every derived figure, as a table or as JSON",
			more:    "The table goes to standard output. With --json, or into a file that ends in .json, it is JSON.",
			flags:   []string{"output", "json", "base", "look", "allow-outside", "problems"}},
		{name: "check", operand: "SETUP NAME=READING...", least: 1, most: -1, run: runCheck,
			summary: "today's readings against the setup: what is off and what to do",
			more: "The key's reading sets today's base; --base says it instead, and then the key is checked too. NAME is a " +
				"light, its number, or both of a pair; READING any notation, or a difference from the key: Fill=-1.4, " +
				"'Fill=1.4 under'. Put in quotes what has a space in it: 'Rim L=f/8 +0.3'. A cause that several share is " +
				"looked for first: the same is what lies within 0.15 stop of their median. Ends with 1 when a light is off.",
			flags: []string{"output", "json", "base", "iso", "shutter", "tolerance", "readings", "record", "code", "look", "allow-outside", "problems"}},
		{name: "compare", operand: "A [B]", least: 1, most: 2, run: runCompare,
			summary: "what differs between two setups, light by light",
			more: "Lights are matched by name, then by role, then by place. Two figures are the same within a tenth of a " +
				"stop, 2 cm and 2 degrees; what is the same is not listed without --all. Notes, stands and circuits are " +
				"not compared. --look is for each of the two that has it. With one file, or the same file twice, A is the " +
				"set as written and B the set in that look; --look-a and --look-b name one for each. A difference is no " +
				"mistake: it ends with 0.",
			flags: []string{"output", "json", "all", "look", "look-a", "look-b", "allow-outside", "problems"}},
		{name: "adapt", operand: "SETUP", least: 1, most: 1, run: runAdapt,
			summary: "a new setup file for another aperture, room, head, lens or side",
			more: "Powers, shutter, dimmers and places are worked out again, for any of the flags together. " +
				"The new file keeps the old one's comments, order and notation, and says on top what it was made " +
				"from. What could not be kept is said with figures, in the file too, and adapt then ends with 1; the file is " +
				"written. NEW.yaml is never overwritten.",
			flags: []string{"output", "base", "iso", "shutter", "ceiling", "room", "scale-distances", "swap", "swap-modifier", "mirror", "face", "lens",
				"code", "dry-run", "json", "allow-outside", "problems"}},
		{name: "find", operand: "[PATH...] WORD...", least: 1, most: -1, run: runFind,
			summary: "the setups that hold these words and meet these filters, the best first",
			told:    findHelp,
			flags:   []string{"output", "json", "in", "allow-outside", "problems"}},
		{name: "list", operand: "[PATH...]", most: -1, run: runList,
			summary: "a table of setups: code, title, date, lights, ratio, base range, tags",
			more: "PATH is a setup file or a folder, looked into at any depth; without it this folder. The ratio is key to " +
				"fill; the base range what every head can do. A broken setup is named with its mistakes, the rest is " +
				"listed, and it ends with 1, as it does where two have one code.",
			flags: []string{"output", "json", "by", "allow-outside", "problems"}},
		{name: "proof", operand: "SETUP...", least: 1, most: -1, run: runProof,
			summary: "what is wrong, what does not add up, what a rebuild would miss",
			more:    "SETUP is a setup file, a folder, looked into at any depth, or - for standard input. Findings go to standard output. Ends with 1 when there are errors, with --strict for warnings too.",
			flags:   []string{"output", "look", "strict", "allow-outside", "problems"}},
		{name: "pack", operand: "SETUP...", least: 1, most: -1, papers: layout.SheetPapers, run: runPack,
			summary: "what to bring for these setups, each thing once, with its weight and the mains load",
			more: "SETUP is a setup file, a folder, looked into at any depth, or - for standard input. Each thing as many times as the " +
				"setup that needs most of it. The list goes to standard output; -o kit.pdf (or .svg, .png, .jpg) " +
				"is a checklist with boxes, on --paper a4 (the usual) or letter.",
			flags: []string{"output", "json", "paper", "dpi", "lang", "no-source", "allow-outside", "problems"}},
		{name: "gear", operand: "[PATH...]", most: -1, run: runGear,
			summary: "what each head gives through each modifier, learned from the setups",
			more: "PATH is a setup file, or a folder with setups in it and in its folders; this one unless said. A " +
				"light counts where its head has a name, and power, modifier, place and reading are written down. " +
				"--write proposes lines of \"output\" for the gear file. Ends with 1 when a setup has mistakes; the " +
				"others count.",
			flags: []string{"output", "json", "write", "allow-outside", "problems"}},
		{name: "recover", operand: "FILE...", least: 1, most: -1, run: runRecover,
			summary: "the setup file, got back from what was drawn of it",
			more: "FILE is a PDF, SVG, PNG or JPEG that stopleaf made; a scan or a photograph of a printed page (PDF, PNG, JPEG, " +
				"TIFF, WebP); or the text of codes. Several pictures may show the codes of one setup. - is standard input. Of " +
				"a PDF that stopleaf made it is the file as it was written, with its comments, where nothing in that was " +
				"private. The gear and the " +
				"house settings are written into it, so that it needs no other file. One setup goes to standard output or " +
				"to -o FILE, several to -o FOLDER/, each by its code. What is there is never written over.",
			flags: []string{"output", "code"}},
		{name: "new", operand: "FILE", least: 1, most: 1, run: runNew,
			summary: "begin a setup file from a commented starter",
			more:    "FILE is never overwritten. Without --from the starters are listed.",
			flags:   []string{"from"}},
		{name: "demo", operand: "FOLDER", least: 1, most: 1, run: runDemo,
			summary: "write the demo setups and print every document from them",
			more:    "FOLDER is made when it is not there. Nothing in it is overwritten.",
		},
		{name: "schema", operand: "[KIND]", most: 1, run: runSchema,
			summary: "the JSON schema of a setup file, for editors",
			more: "Editors that read YAML complete keys and check values from it. KIND is setup (the usual), gear, " +
				"house, for a stopleaf.yaml, format, for a page format of your own, or binder, for a binder.yaml.",
			flags: []string{"output"}},
		{name: "version", most: 0, run: runVersion, summary: "the version of this program"},
		{name: "help", operand: "[COMMAND]", most: 1, run: runHelp, summary: "how a command is used"},
	}
}

func runVersion(c *call) error {
	version := "(devel)"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		version = info.Main.Version
	}
	return c.print([]byte("stopleaf " + version + "\n"))
}

func runSchema(c *call) error {
	kind := setup.Schemas[0]
	if len(c.operands) > 0 {
		kind = c.operands[0]
	}
	schema := setup.Schema(kind)
	if schema == nil {
		return &usageError{fmt.Sprintf("there is no schema of %q; allowed: %s", kind, strings.Join(setup.Schemas, ", ")), didYouMean(kind, setup.Schemas)}
	}
	return c.result(schema, nil)
}
