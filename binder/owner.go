package binder

import "strings"

// Owner is whose setups these are: the name that every one gives that gives any;
// "" where two names differ, or there is none. Case and spacing do not tell
// names apart; it is spelt as on the first setup.
func (s *Shelf) Owner() string {
	owner := ""
	for _, it := range s.Setups() {
		name := strings.Join(strings.Fields(it.By), " ")
		switch {
		case name == "":
		case owner == "":
			owner = name
		case !strings.EqualFold(owner, name):
			return ""
		}
	}
	return owner
}
