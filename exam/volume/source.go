package volume

import (
	"fmt"

	"loosebox/ranges"
)

// Rule is one rule of a calculation, with where it was read.
type Rule struct {
	Words    string
	Source   string
	Evidence ranges.Evidence
}

// DoseRules are how a volume is worked out.
func DoseRules() []Rule {
	return []Rule{
		{"mg = mg/kg x kg; mL = mg / (mg/mL); 1 % = 10 mg/mL", "medical math, bestvetaustin.com", ranges.PracticePage},
		{"drawn at the nearest mark, half a mark goes up; rounded once, at the end", "common practice", ranges.CommonPractice},
		{"1 lb = 0.45359237 kg exactly", "NIST SP 811", ranges.Published},
	}
}

// PasteRules are how a paste is set.
func PasteRules() []Rule {
	return []Rule{{
		"marks = weight / what one mark treats, rounded up: the mark equal to the weight or the next above it",
		"how to set a paste syringe, 3dworming.co.uk and wormers-direct.co.uk", ranges.CommonPractice,
	}}
}

// DripRules are how a drip is worked out.
func DripRules() []Rule {
	return []Rule{{
		"drops a minute = mL x drops a mL / minutes; time left = mL x drops a mL / drops a minute",
		"arithmetic; the drops a mL stand on the packet of the set", ranges.CommonPractice,
	}}
}

// DeficitRules are how a fluid loss is worked out.
func DeficitRules() []Rule {
	return []Rule{
		{"L = % of body weight x kg / 100", "fluid needs in dehydrated horses, MSD Veterinary Manual", ranges.Published},
		{fmt.Sprintf("more than %d %% is not met", worstPercent), "SAEVA Proceedings 2015", ranges.Published},
	}
}

// DoseSource are the rules of a volume in lines for a person.
func DoseSource() []string { return lines(DoseRules()) }

// PasteSource are the rules of a paste in lines for a person.
func PasteSource() []string { return lines(PasteRules()) }

// DripSource are the rules of a drip in lines for a person.
func DripSource() []string { return lines(DripRules()) }

// DeficitSource are the rules of a fluid loss in lines for a person.
func DeficitSource() []string { return lines(DeficitRules()) }

func lines(rules []Rule) []string {
	out := make([]string, 0, 2*len(rules))
	for _, r := range rules {
		out = append(out, r.Words, fmt.Sprintf("source: %s (%s)", r.Source, r.Evidence))
	}
	return out
}

// Explain says what the amount of blood rests on, and every limit with its source.
func (b Blood) Explain() []string {
	lines := []string{
		fmt.Sprintf("mL = %s mL/kg x kg (%s)", Plain(b.Type.MLPerKg), b.Type.Whom),
		fmt.Sprintf("source: %s (%s)", b.Type.Source, b.Type.Evidence),
	}
	if b.Type.Note != "" {
		lines = append(lines, b.Type.Note)
	}
	for _, l := range b.Limits {
		within := Plain(l.Days) + " days"
		if l.Days == 1 {
			within = "a day"
		}
		lines = append(lines, fmt.Sprintf("%s %% of %s in %s: %s (%s)", Plain(l.Percent), l.Of, within, l.Source, l.Evidence))
	}
	return append(lines, "Most limits were made for laboratory animals; the veterinarian and local rules decide.")
}
