package handoff

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Vital is one vital sign of the page.
type Vital struct {
	Name  string
	Steps []exam.StepID
	Said  string   // what was found, as it is read; empty where it was not taken
	Open  []string // of it what was not taken: names as they are read
	Why   []string // the reasons, one for each of Open; empty where nobody gave one
	Only  bool     // it is named only where it was looked at
	sites bool     // Said names the sites
	// Number is the value of a sign that is one number; nil for others.
	Number *notation.Quantity
}

// vitals are temperature, heart, breathing, gums and refill, gut sounds, digital
// pulses and weight, in this order, taken or not.
func (in Input) vitals() []Vital {
	return []Vital{
		in.one("temp.rectal"), in.one("heart.rate"), in.one("breath.rate"), in.gums(),
		in.sited("gut.sounds", "in all four quadrants"), in.pulses(), in.one("weight.body"),
	}
}

// one is a sign that is one number.
func (in Input) one(id exam.StepID) Vital {
	v := Vital{Name: in.name(id), Steps: []exam.StepID{id}}
	step, _ := in.Steps.ByID(id)
	f, ok := in.Visit.Finding(exam.Key{Step: id})
	switch {
	case ok && f.Done() && f.Value.Number != nil:
		v.Said, v.Number = in.standing(step, f), f.Value.Number
	case ok && f.Done():
		v.Said = in.standing(step, f)
	default:
		v.miss(v.Name, f)
	}
	return v
}

// standing is an answer as it is read, with those of another laptop that stand beside it.
func (in Input) standing(step exam.Step, f exam.Finding) string {
	text := aloud(step, f.Value)
	if !f.Disputed() {
		return text
	}
	for _, o := range f.Differ {
		if o.Done() {
			text += " or " + aloud(step, o.Value)
		} else {
			text += " or not done"
		}
	}
	return text + ", from two laptops"
}

func (v *Vital) miss(name string, f exam.Finding) {
	v.Open, v.Why = append(v.Open, name), append(v.Why, f.WhyNot())
}

// gums are colour, moisture and refill, as far as they were looked at.
func (in Input) gums() Vital {
	v := Vital{Name: "gums", Steps: []exam.StepID{"gum.colour", "gum.moisture", "gum.refill"}}
	var parts []string
	for _, id := range v.Steps {
		step, _ := in.Steps.ByID(id)
		f, ok := in.Visit.Finding(exam.Key{Step: id})
		if !ok || !f.Done() {
			v.miss(in.name(id), f)
			continue
		}
		text := in.standing(step, f)
		switch id {
		case "gum.refill":
			text = "refill " + text
		case "gum.moisture":
			text, _, _ = strings.Cut(text, ",") // "moist, finger slides"
		}
		parts = append(parts, text)
	}
	v.Said = strings.Join(parts, ", ")
	if len(parts) == 0 && len(slices.Compact(slices.Clone(v.Why))) == 1 {
		v.Open, v.Why = []string{"gums and refill"}, v.Why[:1]
	}
	return v
}

// pulses are the digital pulses; nobody says that they were not felt.
func (in Input) pulses() Vital {
	v := in.sited("limb.digitalpulse", "in all four feet")
	v.Only = true
	return v
}

// sited is a sign at four sites, like answers together: "left upper and left lower
// none, right upper and right lower heard".
func (in Input) sited(id exam.StepID, everywhere string) Vital {
	v := Vital{Name: in.name(id), Steps: []exam.StepID{id}}
	step, ok := in.Steps.ByID(id)
	if !ok {
		return v
	}
	if f, found := in.Visit.Finding(exam.Key{Step: id, Site: exam.Overall}); found && f.Done() {
		v.Said = aloud(step, f.Value) + " overall"
		return v
	}
	var answers []string
	at := map[string][]string{}
	for _, site := range step.Sites {
		f, found := in.Visit.Finding(exam.Key{Step: id, Site: site})
		if !found || !f.Done() {
			v.miss(site.String(), f)
			continue
		}
		text := aloud(step, f.Value)
		if len(at[text]) == 0 {
			answers = append(answers, text)
		}
		at[text] = append(at[text], site.String())
	}
	for _, text := range answers {
		if len(at[text]) == len(step.Sites) {
			v.Said = text + " " + everywhere
			return v
		}
		if v.Said != "" {
			v.Said += ", "
		}
		v.Said += listed(paired(at[text])) + " " + text
		v.sites = true
	}
	switch {
	case len(answers) == 0:
		v.Open, v.Why = []string{v.Name}, v.Why[:min(1, len(v.Why))]
	default:
		for i := range v.Open {
			v.Open[i] = v.Name + " " + v.Open[i]
		}
	}
	return v
}

// paired says two sites of one side, or one end, as one.
func paired(sites []string) []string {
	for _, p := range []struct{ a, b, both string }{
		{exam.LeftUpper.String(), exam.LeftLower.String(), leftSide.String()},
		{exam.RightUpper.String(), exam.RightLower.String(), rightSide.String()},
		{exam.LeftFore.String(), exam.RightFore.String(), bothFore.String()},
		{exam.LeftHind.String(), exam.RightHind.String(), bothHind.String()},
	} {
		at := slices.Index(sites, p.a)
		if at < 0 || !slices.Contains(sites, p.b) {
			continue
		}
		sites = slices.DeleteFunc(slices.Clone(sites), func(s string) bool { return s == p.a || s == p.b })
		sites = slices.Insert(sites, min(at, len(sites)), p.both)
	}
	return sites
}

// vitalLines are the vital signs as they are read: each that was taken in a line,
// then what was not taken, by reason, of which so many words are read. For 0 words
// the reasons are on the page alone.
func vitalLines(vitals []Vital, words int) []string {
	var lines, reasons []string
	open := map[string][]string{}
	for _, v := range vitals {
		if v.Said != "" {
			lines = append(lines, notation.Capital(v.Name)+colon(v)+" "+v.Said+".")
		}
		if v.Only {
			continue
		}
		for i, name := range v.Open {
			why := onPage
			if words > 0 {
				why = cut(v.Why[i], words)
			}
			if !slices.Contains(reasons, why) {
				reasons = append(reasons, why)
			}
			open[why] = append(open[why], name)
		}
	}
	for _, why := range reasons {
		lead := "Not taken"
		if why != "" {
			lead += ", " + why
		}
		lines = append(lines, lead+": "+strings.Join(open[why], ", ")+".")
	}
	return lines
}

// colon parts a name from a list.
func colon(v Vital) string {
	if v.sites || strings.Contains(v.Said, ",") && v.Number == nil {
		return ":"
	}
	return ""
}
