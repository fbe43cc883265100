package safety

// hazardRule is one hazard's own words.
type hazardRule struct {
	name string
	rank int
	key  string
}

// hazardRules in the order they are printed within a rank. "baby" is with what
// hangs overhead.
var hazardRules = []hazardRule{
	{"water", 1, "safety.water"},
	{"flame", 2, "safety.flame"},
	{"dust", 2, "safety.dust"},
	{"aerosol", 2, "safety.aerosol"},
	{"outdoors", 2, "safety.outdoors"},
	{"ladder", 2, "safety.ladder"},
	{"child", 3, "safety.child"},
	{"animal", 3, "safety.animal"},
	{"haze", 3, "safety.haze"},
	{"glass", 4, "safety.glass"},
	{"trip", 5, "safety.trip"},
}

// hazards gives the words of each hazard that the file names, once each. Dust
// and aerosol share one note; with a flame it is said
// that they never go together.
func hazards(c *set) []Note {
	dust, aerosol := has(c.s.Hazards, "dust"), has(c.s.Hazards, "aerosol")
	var out []Note
	for _, h := range hazardRules {
		if !has(c.s.Hazards, h.name) {
			continue
		}
		key, rank := h.key, h.rank
		switch {
		case h.name == "aerosol" && dust:
			continue
		case h.name == "dust" && aerosol:
			key = "safety.dust-and-aerosol"
		case h.name == "flame" && (dust || aerosol):
			key, rank = "safety.flame-in-dust", 1
		}
		out = append(out, c.note("hazard-"+h.name, rank, "", key))
	}
	return out
}
