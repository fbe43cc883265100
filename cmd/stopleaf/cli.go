package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"

	"stopleaf/layout"
	"stopleaf/setup"
	"stopleaf/templates"
)

// command is one row of the command table.
type command struct {
	name    string
	operand string // what follows the flags, as help shows it
	least   int    // operands at least
	most    int    // operands at most; -1 is any number
	summary string
	more    string              // said by "help NAME" only
	told    func(*bytes.Buffer) // writes more, where that is made when it is asked for
	flags   []string
	papers  func() []string // what --paper may be; nil is any of papers
	run     func(*call) error
}

// flag is one row of the flag table.
type flag struct {
	name    string
	of      string // the commands that take it like this; "" is any other
	short   string
	value   string   // what stands for its value in help; "" for a switch
	allowed []string // nil is anything
	many    bool     // may be given again: the values are joined by commas
	help    string
}

// call is one command line, understood, with the streams it works on.
type call struct {
	cmd      *command
	operands []string
	set      map[string]string // flags given; a switch is "yes"
	dashes   int               // operands before a "--"; -1 without one

	ctx    context.Context
	stdin  io.Reader
	stdout io.Writer
	stderr io.Writer

	words  map[string]templates.Words // by language, read on first use
	format *layout.Format             // a page format of one's own; nil for none
	shared *setup.Shared              // what several setups of a run name alike; nil for one setup
}

// has reports whether a switch or flag was given.
func (c *call) has(name string) bool { _, ok := c.set[name]; return ok }

var papers = []string{"a5", "a4", "a6", "letter", "half-letter", "4x6", "5x8"}

var views = []string{"overhead", "side"}

var listOrders = []string{"code", "title", "made"}

// flagTable is every flag; a command lists the names of those it takes.
func flagTable() []flag {
	return []flag{
		{name: "output", of: "binder", short: "o", value: "FILE", help: "write to FILE, a .pdf; - is standard output"},
		{name: "output", of: "adapt", short: "o", value: "NEW", help: "the new setup file; - is standard output"},
		{name: "output", of: "numbers check compare find list proof gear recover schema", short: "o", value: "FILE", help: "write to FILE; - is standard output"},
		{name: "output", short: "o", value: "FILE", help: "write to FILE (.pdf, .svg, .png or .jpg by its ending); - is standard output"},
		{name: "base", of: "check", value: "F", help: "what the key is set to read today; then its reading is checked too"},
		{name: "base", of: "adapt", value: "F", help: "what the key is to read: f/4"},
		{name: "base", value: "F[,F...]", help: "what the key is set to read, in place of the file's bases: f/4,f/5.6"},
		{name: "paper", value: "SIZE", allowed: papers, help: "the paper"},
		{name: "dpi", value: "N", help: "dots an inch of a .png or .jpg, 72 to 600; else 200"},
		{name: "lang", value: "LANG", allowed: templates.Languages(), help: "the language of the pages"},
		{name: "look", value: "NAME", help: "the set as it is in one of the file's \"looks\""},
		{name: "look-a", value: "NAME", help: "A as it is in that look"},
		{name: "look-b", value: "NAME", help: "B as it is in that look"},
		{name: "in", value: "PATH", help: "look in that file or folder; every word is then a word, whatever it is called"},
		{name: "by", value: "ORDER", allowed: listOrders, help: "the order of the list"},
		{name: "code", of: "card", help: "the code that holds the setup on the front; else it is on the back"},
		{name: "code", of: "adapt", value: "CODE", help: "the new file's own code; else it keeps the old one's where that is written"},
		{name: "code", of: "check", value: "CODE", help: "with --record: the new file's own code; else it keeps the old one's where that is written"},
		{name: "code", value: "CODE", help: "the one of several setups that has this code"},
		{name: "all", help: "what is the same too"},
		{name: "format", value: "FILE", help: "a page format of your own, in place of a paper"},
		{name: "duplex", help: "print on both sides, for a printer that turns the sheet over its long edge"},
		{name: "holes", value: "N", allowed: layout.BinderHoles(), help: "filing holes, whose margin is kept clear: two or four by ISO 838, three as on US Letter"},
		{name: "only-changed", value: "EARLIER", help: "print the sheets that differ from an earlier binder's PDF, and list which to take out and put in"},
		{name: "as", value: "FORM", allowed: layout.BinderForms(), help: "how each setup is printed"},
		{name: "rulers", help: "stop rulers even where there is little room"},
		{name: "view", value: "VIEW", allowed: views, help: "which way to look"},
		{name: "scale", value: "1:N", help: "the scale, such as 1:20; else the largest that fits"},
		{name: "ceiling", value: "LENGTH", help: "the ceiling's height; bare lengths are in the setup's units"},
		{name: "room", value: "WALL=LENGTH[,...]", many: true, help: "from the subject mark to the walls: left=1.8,right=2,front=3,behind=2"},
		{name: "scale-distances", value: "FACTOR", help: "how far the lights stand from what they light, times FACTOR, on the same lines"},
		{name: "swap", value: "LIGHT=HEAD[,...]", many: true, help: "another head from the gear for a light"},
		{name: "swap-modifier", value: "LIGHT=MODIFIER[,...]", many: true, help: "another modifier from the gear for a light"},
		{name: "mirror", help: "the sitter's other side: every left is right"},
		{name: "face", value: "LENGTH", help: "the height of the face; lights, aims and camera follow"},
		{name: "lens", value: "MM", help: "another lens; the camera moves to keep the frame at the subject"},
		{name: "dry-run", help: "say what would change, and write nothing"},
		{name: "json", help: "every figure as JSON"},
		{name: "readings", value: "FILE", help: "readings from a file, one NAME: READING a line; - is standard input"},
		{name: "iso", value: "N", help: "today's ISO, where it is not that of the record"},
		{name: "shutter", value: "TIME", help: "today's shutter, where it is not that of the record"},
		{name: "record", value: "FILE", help: "write a new setup file with today's readings; one that is there is never written over"},
		{name: "tolerance", value: "STOPS", help: "how far a light may be off; else its own, or the larger of 0.1 and half a step of its dial"},
		{name: "write", help: "propose lines for the gear file, as YAML"},
		{name: "strict", of: "binder", help: "a setup with mistakes stops the binder: nothing is written"},
		{name: "strict", help: "end with 1 for warnings too"},
		{name: "from", value: "STARTER", help: "the starter to begin with; without a name of a starter they are listed"},
		{name: "watch", help: "draw again whenever the setup, its gear file or a photo is saved"},
		{name: "photos", value: "HOW", allowed: []string{"ask", "skip"}, help: "a photo that cannot be used is an error, which asks for another, or is skipped"},
		{name: "no-source", help: "leave the setup file out; else recover gets it back from what is drawn, but for what is private"},
		{name: "allow-outside", help: "let gear and photos lie outside the setup's own folder"},
		{name: "problems", value: "FORM", allowed: []string{"text", "json"}, help: "how problems are printed; json is for editors"},
		{name: "help", short: "h", help: "say how a command is used"},
	}
}

// findFlag finds a flag by its name or letter, as a command takes it.
func findFlag(name string, of *command) (found flag, ok bool) {
	for _, f := range flagTable() {
		switch same := f.name == name || f.short != "" && f.short == name; {
		case same && contains(strings.Fields(f.of), of.name):
			return f, true
		case same && f.of == "":
			found, ok = f, true
		}
	}
	return found, ok
}

func findCommand(name string) *command {
	table := commandTable()
	for i := range table {
		if table[i].name == name {
			return &table[i]
		}
	}
	return nil
}

// usageError is a wrong command line.
type usageError struct{ message, hint string }

func (e *usageError) Error() string { return e.message }

// parse understands a command line. The error is a *usageError.
func parse(args []string) (*call, error) {
	if len(args) == 0 {
		return nil, &usageError{"no command given", "stopleaf help lists the commands; stopleaf demo out shows what they make"}
	}
	name := args[0]
	switch name {
	case "-h", "--help":
		name = "help"
	case "--version":
		name = "version"
	}
	cmd := findCommand(name)
	if cmd == nil {
		return nil, unknownCommand(name)
	}
	c := &call{cmd: cmd, set: map[string]string{}, dashes: -1}
	if err := c.parseRest(args[1:]); err != nil {
		return nil, err
	}
	if c.has("help") {
		return &call{cmd: findCommand("help"), operands: []string{cmd.name}}, nil
	}
	return c, c.countOperands()
}

func (c *call) parseRest(args []string) error {
	for i := 0; i < len(args); i++ {
		arg := args[i]
		switch {
		case arg == "--":
			c.dashes = len(c.operands)
			c.operands = append(c.operands, args[i+1:]...)
			return nil
		case arg == "-" || !strings.HasPrefix(arg, "-"):
			c.operands = append(c.operands, arg)
		default:
			used, err := c.parseFlag(arg, args[i+1:])
			if err != nil {
				return err
			}
			i += used
		}
	}
	return nil
}

// parseFlag understands one flag and says how many of the words after it were
// its value.
func (c *call) parseFlag(arg string, after []string) (used int, err error) {
	name, value, inline := strings.Cut(strings.TrimLeft(arg, "-"), "=")
	if !strings.HasPrefix(arg, "--") && len(name) > 1 {
		// -oFILE, but also -output by a slip of the finger.
		if _, whole := findFlag(name, c.cmd); !whole {
			if f, ok := findFlag(name[:1], c.cmd); ok && f.short == name[:1] && f.value != "" {
				name, value, inline = f.name, strings.TrimPrefix(arg[2:], "="), true
			}
		}
	}
	f, ok := findFlag(name, c.cmd)
	if !ok || !c.takes(f.name) {
		return 0, c.unknownFlag(arg, name)
	}
	if c.has(f.name) && !f.many {
		return 0, &usageError{fmt.Sprintf("--%s is given twice", f.name), ""}
	}
	if f.value == "" {
		if inline {
			return 0, &usageError{fmt.Sprintf("--%s takes no value, but %q is given", f.name, value), ""}
		}
		c.set[f.name] = "yes"
		return 0, nil
	}
	if !inline {
		if len(after) == 0 {
			return 0, c.noValue(f)
		}
		value, used = after[0], 1
	}
	if allowed := c.cmd.allowed(f); allowed != nil {
		given := value
		if value = strings.ToLower(value); !contains(allowed, value) {
			return 0, c.notAllowed(f, given, allowed)
		}
	}
	if c.has(f.name) {
		value = c.set[f.name] + "," + value
	}
	c.set[f.name] = value
	return used, nil
}

// allowed are the values that the command's flag may have; nil is anything.
func (c *command) allowed(f flag) []string {
	if f.name == "paper" {
		return c.madeOn()
	}
	return f.allowed
}

func (c *call) notAllowed(f flag, value string, allowed []string) error {
	e := &usageError{fmt.Sprintf("--%s %q is not known", f.name, value), didYouMean(value, allowed)}
	if contains(f.allowed, strings.ToLower(value)) {
		e = &usageError{message: fmt.Sprintf("%s is not made on --%s %s", c.cmd.name, f.name, value)}
	}
	e.message += "; allowed: " + strings.Join(allowed, ", ")
	return e
}

func (c *call) noValue(f flag) error {
	if f.name == "from" {
		c.set["from"] = ""
		return nil
	}
	return &usageError{fmt.Sprintf("--%s needs a value: --%s %s", f.name, f.name, f.value), ""}
}

// takes reports whether the command has the flag.
func (c *call) takes(name string) bool { return name == "help" || contains(c.cmd.flags, name) }

func (c *call) unknownFlag(arg, name string) error {
	shown, _, _ := strings.Cut(arg, "=")
	e := &usageError{message: fmt.Sprintf("%s has no flag %q", c.cmd.name, shown)}
	var own []string
	for _, f := range c.cmd.flags {
		own = append(own, "--"+f)
	}
	if _, other := findFlag(name, c.cmd); !other {
		e.hint = didYouMean("--"+name, own)
	}
	if e.hint == "" && len(own) > 0 {
		e.hint = "it has " + strings.Join(own, ", ")
	}
	return e
}

func (c *call) countOperands() error {
	n := len(c.operands)
	switch {
	case n < c.cmd.least:
		return &usageError{fmt.Sprintf("%s needs %s", c.cmd.name, c.cmd.operand), "stopleaf help " + c.cmd.name + " says more"}
	case c.cmd.most >= 0 && n > c.cmd.most:
		return &usageError{fmt.Sprintf("%s takes %s, and %q is too much", c.cmd.name, orNothing(c.cmd.operand), c.operands[c.cmd.most]),
			"quote a name that has spaces in it"}
	}
	return nil
}

func orNothing(s string) string {
	if s == "" {
		return "no name"
	}
	return s
}

func unknownCommand(name string) error {
	var names []string
	for _, c := range commandTable() {
		names = append(names, c.name)
	}
	e := &usageError{message: fmt.Sprintf("no command %q", name), hint: didYouMean(name, names)}
	switch {
	case e.hint != "":
	case looksLikeSetup(name):
		e.hint = "say what to do with it: stopleaf card " + name
	default:
		e.hint = "the commands are " + strings.Join(names, ", ")
	}
	return e
}

func looksLikeSetup(name string) bool {
	return name == "-" || strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml")
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}
