package rehearse

import (
	"fmt"
	"strings"
)

func safetyPart(m Marks) Block {
	b := Block{Title: "Safety"}
	if len(m.Safety) == 0 {
		return b
	}
	safe := 0
	for _, s := range m.Safety {
		if s.Safe {
			safe++
		}
	}
	b.Lines = append(b.Lines, MarkLine{Lead: "  ", Text: fmt.Sprintf("%d of %d choices were safe", safe, len(m.Safety)), Why: whySafety})
	for _, s := range m.Safety {
		if !s.Safe {
			text := fmt.Sprintf("%s You chose: %s Safe is: %s %s (%s)", s.Happens, s.Chose, s.Better, s.Why, s.Source)
			b.Lines = append(b.Lines, MarkLine{Lead: "  unsafe: ", Text: text, Fault: true, Step: s.Place.Step, Why: whySafety})
		}
	}
	return b
}

func tellPart(m Marks) Block {
	h := m.HandOff
	line := MarkLine{Lead: "  ", Why: whyTold, Fault: h.Needed && !h.Complete}
	switch {
	case !h.Needed && h.Done:
		line.Text = "handed off; nothing had to be told"
	case !h.Needed:
		line.Text = "nothing had to be told"
	case !h.Done:
		line.Text = "not handed off, though something had to be told"
	case h.Complete:
		line.Text = "handed off, and it holds what it must"
	default:
		line.Text = "handed off, but it lacks: " + strings.Join(h.Lacks, "; ")
	}
	b := Block{Title: "For the veterinarian", Lines: []MarkLine{line}}
	for _, t := range m.Tell {
		sign := "told      "
		switch {
		case !t.Found:
			sign = "not found "
		case !t.Told:
			sign = "not told  "
		}
		b.Lines = append(b.Lines, MarkLine{Lead: "  " + sign, Text: t.Name + ": " + t.Truth, Fault: !t.Told, Step: t.Step, Why: whyTold})
	}
	for _, r := range m.Unraised {
		b.Lines = append(b.Lines, remarkLine("  remark not raised: ", r, true, whyRaised))
	}
	for _, r := range m.NoCause {
		b.Lines = append(b.Lines, remarkLine("  remark without cause: ", r, false, whyCause))
	}
	return b
}

func remarkLine(lead string, r RemarkMark, fault bool, why string) MarkLine {
	if r.Source != "" {
		why += " Source: " + r.Source + "."
	}
	return MarkLine{Lead: lead, Text: fmt.Sprintf("%s, %s: %s", r.Level, r.Name, r.Why), Fault: fault, Step: r.Step, Why: why}
}

func timePart(m Marks) Block {
	b := Block{Title: "Time a step"}
	if len(m.Times) == 0 {
		return b
	}
	parts := make([]string, len(m.Times))
	for i, t := range m.Times {
		parts[i] = t.Name + " " + duration(t.Seconds)
	}
	b.Lines = []MarkLine{{Lead: "  ", Text: strings.Join(parts, ", "), Why: whyTimes}}
	return b
}

// duration writes seconds as "2 min 05 s".
func duration(s float64) string {
	n := int(s + 0.5)
	if n < 60 {
		return fmt.Sprintf("%d s", n)
	}
	return fmt.Sprintf("%d min %02d s", n/60, n%60)
}

func teachingPart(m Marks) Block {
	b := Block{Title: "Worth knowing"}
	for _, t := range m.Teaching {
		b.Lines = append(b.Lines, MarkLine{Lead: "  - ", Text: fmt.Sprintf("%s (%s)", t.Text, t.Cited)})
	}
	return b
}
