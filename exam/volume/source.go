package volume

import "fmt"

// DoseSource says how a volume is worked out and where that was read.
func DoseSource() []string {
	return []string{
		"mg = mg/kg x kg; mL = mg / (mg/mL); 1 % = 10 mg/mL; drawn at the nearest mark, half a mark goes up",
		"source: medical math, bestvetaustin.com (practice page); rounding once at the end: common practice",
		"1 lb = 0.45359237 kg exactly (NIST SP 811)",
	}
}

// PasteSource says how a paste is set and where that was read.
func PasteSource() []string {
	return []string{
		"marks = weight / what one mark treats, rounded up: the mark equal to the weight or the next above it",
		"source: how to set a paste syringe, 3dworming.co.uk and wormers-direct.co.uk (common practice)",
	}
}

// DripSource says how a drip is worked out and where that was read.
func DripSource() []string {
	return []string{
		"drops a minute = mL x drops a mL / minutes; time left = mL x drops a mL / drops a minute",
		"source: arithmetic (common practice); the drops a mL stand on the packet of the set",
	}
}

// DeficitSource says how a fluid loss is worked out and where that was read.
func DeficitSource() []string {
	return []string{
		"L = % of body weight x kg / 100",
		"source: fluid needs in dehydrated horses, MSD Veterinary Manual (published)",
		fmt.Sprintf("more than %d %% is not met (SAEVA Proceedings 2015, published)", worstPercent),
	}
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
	return append(lines, "Most limits were made for animals of laboratories; the veterinarian and local rules decide.")
}
