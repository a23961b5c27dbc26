package rehearse

import (
	"fmt"
	"strings"
)

func (p *page) safetyPart(m Marks) {
	if len(m.Safety) == 0 {
		return
	}
	safe := 0
	for _, s := range m.Safety {
		if s.Safe {
			safe++
		}
	}
	p.title("Safety")
	p.para("  ", fmt.Sprintf("%d of %d choices were safe", safe, len(m.Safety)))
	for _, s := range m.Safety {
		if !s.Safe {
			p.para("  ! ", fmt.Sprintf("%s You chose: %s Safe is: %s %s (%s)", s.Happens, s.Chose, s.Better, s.Why, s.Source))
		}
	}
}

func (p *page) tellPart(m Marks) {
	h := m.HandOff
	p.title("For the veterinarian")
	switch {
	case !h.Needed && h.Done:
		p.para("  ", "handed off; nothing had to be told")
	case !h.Needed:
		p.para("  ", "nothing had to be told")
	case !h.Done:
		p.para("  ", "not handed off, though something had to be told")
	case h.Complete:
		p.para("  ", "handed off, and it holds what it must")
	default:
		p.para("  ", "handed off, but it lacks: "+strings.Join(h.Lacks, "; "))
	}
	for _, t := range m.Tell {
		sign := "told      "
		switch {
		case !t.Found:
			sign = "not found "
		case !t.Told:
			sign = "not told  "
		}
		p.para("  "+sign, t.Name+": "+t.Truth)
	}
	for _, r := range m.Unraised {
		p.para("  remark not raised: ", fmt.Sprintf("%s, %s: %s", r.Level, r.Name, r.Why))
	}
	for _, r := range m.NoCause {
		p.para("  remark without cause: ", fmt.Sprintf("%s, %s: %s", r.Level, r.Name, r.Why))
	}
}

func (p *page) timePart(m Marks) {
	if len(m.Times) == 0 {
		return
	}
	p.title("Time a step")
	parts := make([]string, len(m.Times))
	for i, t := range m.Times {
		parts[i] = t.Name + " " + duration(t.Seconds)
	}
	p.para("  ", strings.Join(parts, ", "))
}

// duration writes seconds as "2 min 05 s".
func duration(s float64) string {
	n := int(s + 0.5)
	if n < 60 {
		return fmt.Sprintf("%d s", n)
	}
	return fmt.Sprintf("%d min %02d s", n/60, n%60)
}

func (p *page) teachingPart(m Marks) {
	if len(m.Teaching) == 0 {
		return
	}
	p.title("Worth knowing")
	for _, t := range m.Teaching {
		p.para("  - ", fmt.Sprintf("%s (%s)", t.Text, t.Cited))
	}
}
