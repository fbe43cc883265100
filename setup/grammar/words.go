package grammar

// Roles are the parts a light may play.
var Roles = []string{"key", "fill", "rim", "kicker", "hair", "background", "separation", "accent", "eye", "other"}

// Hazards are the dangers a file may name; each brings its own cautions.
var Hazards = []string{
	"dust", "haze", "water", "aerosol", "flame", "glass", "ladder", "outdoors",
	"child", "baby", "animal", "trip",
}

// Postures are how a person is held, and so how high the face is.
var Postures = []string{"standing", "seated", "lying"}

// Parts are the points of the subject that a light may be aimed at.
var Parts = []string{"face", "crown", "chest", "hands"}

// Kind is one kind of modifier: how it shines, by the shape of its face.
type Kind struct {
	Name   string
	Also   []string
	Shines string // "rectangle", "disc", "hard", "lens"
}

// ModifierKinds are the modifiers the program knows, with the shape each
// shines as: an even rectangle, an even disc, a hard source that follows the
// inverse square, or a lens that close in follows no simple law.
var ModifierKinds = []Kind{
	{Name: "softbox", Also: []string{"soft box", "box"}, Shines: "rectangle"},
	{Name: "strip", Also: []string{"strip box", "stripbox", "striplight", "strip light"}, Shines: "rectangle"},
	{Name: "panel", Also: []string{"led panel", "light panel", "soft panel", "led mat", "mat"}, Shines: "rectangle"},
	{Name: "scrim", Also: []string{"silk", "diffusion frame", "frame", "book light"}, Shines: "rectangle"},
	{Name: "window", Also: []string{"door", "skylight"}, Shines: "rectangle"},
	{Name: "reflector panel", Also: []string{"reflector", "card", "bounce card", "white card", "bounce board", "board", "polyboard", "v flat", "vflat", "wall", "ceiling"}, Shines: "rectangle"},
	{Name: "tube", Also: []string{"light tube", "led tube"}, Shines: "rectangle"},
	{Name: "octabox", Also: []string{"octa", "octagon", "octa box", "octobox"}, Shines: "disc"},
	{Name: "parabolic", Also: []string{"para", "deep octabox"}, Shines: "disc"},
	{Name: "umbrella", Also: []string{"brolly", "white umbrella", "silver umbrella", "umbrella white", "umbrella silver"}, Shines: "disc"},
	{Name: "shoot-through umbrella", Also: []string{"shoot through", "umbrella shoot through", "translucent umbrella"}, Shines: "disc"},
	{Name: "dish", Also: []string{"beauty dish", "soft dish"}, Shines: "disc"},
	{Name: "lantern", Also: []string{"china ball", "paper lantern", "globe", "ball"}, Shines: "disc"},
	{Name: "ring", Also: []string{"ring flash", "ring light", "ringflash"}, Shines: "disc"},
	{Name: "round reflector", Also: []string{"disc reflector", "folding reflector"}, Shines: "disc"},
	{Name: "bowl", Also: []string{"bowl reflector", "standard reflector", "reflector bowl", "zoom reflector", "magnum", "wide reflector"}, Shines: "hard"},
	{Name: "snoot", Also: []string{"cone"}, Shines: "hard"},
	{Name: "grid spot", Also: []string{"gridspot", "honeycomb", "honeycomb spot", "grid"}, Shines: "hard"},
	{Name: "barn doors", Also: []string{"barndoors", "barn door"}, Shines: "hard"},
	{Name: "bare", Also: []string{"bare bulb", "bare head", "bare tube", "none", "no modifier"}, Shines: "hard"},
	{Name: "speedlight", Also: []string{"hot shoe flash", "flashgun", "bare speedlight"}, Shines: "hard"},
	{Name: "sun", Also: []string{"direct sun"}, Shines: "hard"},
	{Name: "fresnel", Also: []string{"fresnel lens", "fresnel spot"}, Shines: "lens"},
	{Name: "optical spot", Also: []string{"optical snoot", "projection spot", "gobo projector", "profile spot", "projector"}, Shines: "lens"},
}

// FindKind looks a kind up by a name in canonical form; nil when unknown.
func FindKind(name string) *Kind {
	name = Canonical(name)
	for i := range ModifierKinds {
		k := &ModifierKinds[i]
		if Canonical(k.Name) == name {
			return k
		}
		for _, a := range k.Also {
			if a == name {
				return k
			}
		}
	}
	return nil
}
