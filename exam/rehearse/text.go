package rehearse

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
)

// LeastWidth is the narrowest page that Text writes, in columns.
const LeastWidth = 40

// Text writes the marks as one page of at most so many columns: three things to do better first, then each mark with
// what it rests on, then the truth beside every answer. Widths under LeastWidth count as that. No line is wider.
func Text(m Marks, width int) string {
	p := &page{width: max(width, LeastWidth)}
	p.head(m)
	p.betterPart(m)
	p.orderPart(m)
	p.missedPart(m)
	p.countPart(m)
	p.safetyPart(m)
	p.tellPart(m)
	p.answers(m)
	p.timePart(m)
	p.teachingPart(m)
	return p.b.String()
}

// page collects wrapped lines.
type page struct {
	b     strings.Builder
	width int
}

// para writes a text behind a lead, later lines indented as far as the lead is wide.
func (p *page) para(lead, text string) {
	indent := strings.Repeat(" ", ansi.StringWidth(lead))
	for i, line := range strings.Split(ansi.Wrap(exam.CleanLine(text, exam.MaxNote), p.width-len(indent), ""), "\n") {
		if i > 0 {
			lead = indent
		}
		p.b.WriteString(strings.TrimRight(lead+line, " ") + "\n")
	}
}

func (p *page) title(text string) { p.b.WriteString("\n" + text + "\n") }

func (p *page) head(m Marks) {
	p.para("", fmt.Sprintf("Rehearsal: %s (no real horse)", m.Title))
	state := duration(m.TotalS) + " in all"
	if !m.Finished {
		state += ", not finished"
	}
	p.para("", fmt.Sprintf("%s, %s, %s, %s, %s", m.Horse, m.Class, m.Routine, m.By, m.At.Format("2006-01-02 15:04")))
	p.para("", fmt.Sprintf("case %s, seed %d, %s", m.Case, m.Seed, state))
}

func (p *page) betterPart(m Marks) {
	if len(m.Better) == 0 {
		p.title("To do better next time")
		p.para("  ", "nothing: every answer, side, count and choice stands")
		return
	}
	p.title("To do better next time")
	for i, text := range m.Better {
		p.para(fmt.Sprintf("  %d. ", i+1), text)
	}
}

func (p *page) orderPart(m Marks) {
	p.title("Order")
	if len(m.Order.OutOfOrder) == 0 {
		p.para("  ", fmt.Sprintf("kept: %d of %d stops, none out of turn", m.Order.Answered, m.Order.Asks))
	} else {
		tau := "none"
		if m.Order.Tau != nil {
			tau = exam.FormatNumber(*m.Order.Tau, 2)
		}
		p.para("  ", fmt.Sprintf("out of turn: %s. Edit distance %d over %d stops, Kendall's tau %s (1 is kept, -1 turned round).",
			placeNames(m.Order.OutOfOrder), m.Order.Edits, m.Order.Answered, tau))
	}
}

func placeNames(places []Place) string {
	names := make([]string, len(places))
	for i, p := range places {
		names[i] = p.Name
	}
	return strings.Join(names, "; ")
}

func (p *page) missedPart(m Marks) {
	if len(m.Missed) > 0 {
		p.title("Steps missed")
		p.para("  ", placeNames(m.Missed))
	}
	if len(m.Sides) > 0 {
		p.title("Sides missed")
		for _, s := range m.Sides {
			p.para("  ", fmt.Sprintf("%s: %s", s.Name, list(s.Sites)))
		}
	}
	if len(m.Passed) > 0 {
		p.title("Passed over with a reason")
		for _, x := range m.Passed {
			text := fmt.Sprintf("%s: %s", x.Name, x.Reason)
			if x.Needed {
				text += " (it had to be found)"
			}
			p.para("  ", text)
		}
	}
	if !m.Context.Right {
		p.title("The last half hour")
		answer := list(m.Context.Answer)
		if answer == "" {
			answer = "nothing"
		}
		p.para("  ", fmt.Sprintf("you wrote %s, the keeper said %s", answer, list(m.Context.Truth)))
	}
}

func (p *page) countPart(m Marks) {
	if len(m.Counts) == 0 {
		return
	}
	p.title("Counts")
	for _, c := range m.Counts {
		sign := "right"
		if !c.Right {
			sign = "not right"
		}
		text := fmt.Sprintf("%s, %s: %s; %s: %s; off by %s, allowed %s: %s.", c.Name, c.Method, perMin(c.PerMin), c.Basis,
			perMin(c.TruePerMin), signed(c.ErrorPerMin), exam.FormatNumber(c.AllowedPerMin, 1), sign)
		if c.BiasS != nil {
			side := "late"
			if *c.BiasS < 0 {
				side = "early"
			}
			text += fmt.Sprintf(" Your taps came %.0f ms %s on the whole and scatter by %.0f ms (%d taps with a beat).",
				1000*max(*c.BiasS, -*c.BiasS), side, 1000**c.SigmaS, c.Pairs)
		}
		p.para("  ", text)
	}
}

func signed(v float64) string {
	text := exam.FormatNumber(v, 1)
	if v > 0 && text != "0" {
		return "+" + text
	}
	return text
}
