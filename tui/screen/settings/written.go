package settings

import (
	"errors"
	"fmt"
	"strconv"

	"loosebox/exam/notation"
	"loosebox/exam/procedure"
)

func (s *screen) person() *written {
	name := notation.CleanLine(s.now.Person, maxName)
	shown := name
	if shown == "" {
		shown = "nobody yet"
	}
	return &written{text: name, shown: shown, hint: nameHint, most: maxName, check: func(text string) error {
		if text != "" && !notation.IsName(text) {
			return errors.New("a name holds a letter")
		}
		return nil
	}}
}

// siteLimit is the volume into one muscle from which a question is asked.
func (s *screen) siteLimit() *written {
	own := procedure.RulesOf(s.now)
	limit := own.SiteLimit()
	w := &written{
		most:  12,
		hint:  "above this volume the program asks; no agreed number; empty: " + limit.Source + ". Label and veterinarian decide",
		shown: fmt.Sprintf("not set (asks above %s mL; %s)", notation.FormatNumber(limit.ML, 1), limit.Source),
	}
	if own.SiteML > 0 {
		w.text = notation.FormatNumber(own.SiteML, 1)
		w.shown = w.text + " mL, the practice's own"
	}
	return w
}

// watch is how long a horse is watched after an injection.
func (s *screen) watch() *written {
	own := procedure.RulesOf(s.now)
	w := &written{
		most:  12,
		hint:  "observation after an injection; 15 to 30 min are common practice (from memory); empty: none starts by itself",
		shown: "not set; no observation starts by itself",
	}
	if own.WatchMinutes > 0 {
		w.text = strconv.Itoa(own.WatchMinutes)
		w.shown = w.text + " min, the practice's own"
	}
	return w
}
