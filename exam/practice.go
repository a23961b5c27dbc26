package exam

import "loosebox/exam/notation"

// Letterhead is what stands at the head of a page that leaves the practice; every part may be empty.
type Letterhead struct {
	Name    string `json:"name,omitempty"`
	Address string `json:"address,omitempty"` // street and town
	Phone   string `json:"phone,omitempty" text:"name"`
	Licence string `json:"licence,omitempty"` // as the board or law there asks for it
	// Picture is the logo, PNG; empty for none. It is of the settings alone.
	Picture []byte `json:"-"`
	// Paper is what pages are set for: A4 or Letter; empty for A4.
	Paper string `json:"paper,omitempty" text:"name"`
}

// Lines are the name, then address, telephone and licence, each where it is set.
func (p Letterhead) Lines() []string {
	var out []string
	for _, l := range []string{p.Name, p.Address, prefixed("telephone ", p.Phone), prefixed("license ", p.Licence)} {
		if l = notation.CleanLine(l, 0); l != "" {
			out = append(out, l)
		}
	}
	return out
}

func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}
