package rehearse

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Block is one part of the page of marks: text and screens set the same blocks.
type Block struct {
	Title string // empty for the first, which says who, what and when
	Lines []MarkLine
}

// MarkLine is one mark.
type MarkLine struct {
	Lead  string      // before the text; later lines are indented as far
	Text  string      // in words
	Sign  string      // of an answer: blank right, "x" wrong, "/" in part or measured off, "-" none, "~" right though it differs
	Cells []string    // of an answer, in place of Text: the place, what was written, the truth
	Under string      // below the cells: what is wrong
	Fault bool        // something here went wrong
	Step  exam.StepID // whose way of doing it helps; empty for none
	Why   string      // how the mark is made, and from what source; empty where it speaks for itself
}

// Page is the marks as one page: three things to do better first, then each mark with what it rests on, then the truth
// beside every answer. It holds no step that is not in the marks, and no colour.
func Page(m Marks) []Block {
	var out []Block
	for _, part := range []func(Marks) Block{
		headPart, betterPart, orderPart, missedPart, sidesPart, passedPart, contextPart, countPart, safetyPart, tellPart,
		answersPart, timePart, teachingPart,
	} {
		if b := part(m); len(b.Lines) > 0 {
			out = append(out, b)
		}
	}
	return out
}

func headPart(m Marks) Block {
	state := duration(m.TotalS) + " in all"
	if !m.Finished {
		state += ", not finished"
	}
	if m.Late > 0 {
		state += fmt.Sprintf("; %s came after the %s of the drill and do not count", notation.Counted(m.Late, "answer"), duration(m.LimitS))
	}
	return Block{Lines: []MarkLine{
		{Text: fmt.Sprintf("Score: %s", m.Score), Why: whyScore + " Here: " + m.Score.InParts() + "."},
		{Text: fmt.Sprintf("Rehearsal: %s (no real horse)", m.Title)},
		{Text: fmt.Sprintf("%s, %s, %s, %s, %s", m.Horse, m.Class, m.Routine, m.By, m.At.Format("2 Jan 2006 15:04"))},
		{Text: fmt.Sprintf("case %s, seed %d, %s", m.Case, m.Seed, state), Why: whyAgain},
	}}
}

func betterPart(m Marks) Block {
	b := Block{Title: "To do better next time"}
	for i, text := range m.Better {
		b.Lines = append(b.Lines, MarkLine{Lead: fmt.Sprintf("  %d. ", i+1), Text: text, Fault: true, Why: whyBetter})
	}
	if len(m.Better) == 0 {
		b.Lines = []MarkLine{{Lead: "  ", Text: "nothing: all that the case asks was examined, and every answer, side, count and choice stands", Why: whyBetter}}
	}
	return b
}

func orderPart(m Marks) Block {
	line := MarkLine{Lead: "  ", Why: whyOrder}
	if len(m.Order.OutOfOrder) == 0 {
		line.Text = fmt.Sprintf("%d of %d steps, none out of order", m.Order.Answered, m.Order.Asks)
	} else {
		tau := "none"
		if m.Order.Tau != nil {
			tau = notation.FormatNumber(*m.Order.Tau, 2)
		}
		line.Fault = true
		line.Text = fmt.Sprintf("%d of %d steps out of order: %s", len(m.Order.OutOfOrder), m.Order.Answered, placeNames(m.Order.OutOfOrder))
		line.Why = fmt.Sprintf("Edit distance %d over %d steps, Kendall's tau %s (1 kept, -1 reversed). ", m.Order.Edits, m.Order.Answered, tau) + whyOrder
	}
	return Block{Title: "Order", Lines: []MarkLine{line}}
}

func placeNames(places []Place) string {
	names := make([]string, len(places))
	for i, p := range places {
		names[i] = p.Name
	}
	return strings.Join(names, "; ")
}

func missedPart(m Marks) Block {
	b := Block{Title: "Steps missed"}
	if len(m.Missed) > 0 {
		b.Lines = []MarkLine{{Lead: "  ", Text: placeNames(m.Missed), Fault: true, Why: whyMissed}}
	}
	return b
}

func sidesPart(m Marks) Block {
	b := Block{Title: "Sides missed"}
	for _, s := range m.Sides {
		b.Lines = append(b.Lines, MarkLine{Lead: "  ", Text: fmt.Sprintf("%s: %s", s.Name, list(s.Sites)), Fault: true, Step: s.Step, Why: whyMissed})
	}
	return b
}

func passedPart(m Marks) Block {
	b := Block{Title: "Not done, with a reason"}
	for _, x := range m.Passed {
		text := fmt.Sprintf("%s: %s", x.Name, x.Reason)
		switch {
		case x.Excused:
			text += " (this horse cannot be examined there)"
		case x.Holds != "":
			text += " (the reason that holds is: " + x.Holds.String() + ")"
		case x.Needed:
			text += " (something was to be found there)"
		default:
			text += " (it could be examined)"
		}
		b.Lines = append(b.Lines, MarkLine{Lead: "  ", Text: text, Fault: !x.Excused, Step: x.Step, Why: whyPassed})
	}
	return b
}

func contextPart(m Marks) Block {
	b := Block{Title: "The last 30 minutes"}
	if m.Context.Right {
		return b
	}
	answer := list(m.Context.Answer)
	if answer == "" {
		answer = "nothing"
	}
	text := fmt.Sprintf("you entered %s, the groom said %s", answer, list(m.Context.Truth))
	b.Lines = []MarkLine{{Lead: "  ", Text: text, Fault: true, Why: whyContext}}
	return b
}

func countPart(m Marks) Block {
	b := Block{Title: "Counts"}
	for _, c := range m.Counts {
		sign := "right"
		if !c.Right {
			sign = "not right"
		}
		text := fmt.Sprintf("%s, %s: %s; true: %s; off by %s: %s.", c.Name, c.Method, perMin(c.PerMin), perMin(c.TruePerMin), signed(c.ErrorPerMin), sign)
		if c.Short != "" {
			text += " Too short: " + c.Short + "."
		}
		why := fmt.Sprintf("Right is %s; %s a minute off is allowed. ", c.Basis, notation.FormatNumber(c.AllowedPerMin, 1))
		if c.BiasS != nil {
			side := "late"
			if *c.BiasS < 0 {
				side = "early"
			}
			why += fmt.Sprintf("Your taps came %.0f ms %s on average and vary by %.0f ms (%d taps with a beat). ",
				1000*max(*c.BiasS, -*c.BiasS), side, 1000**c.SigmaS, c.Pairs)
		}
		b.Lines = append(b.Lines, MarkLine{Lead: "  ", Text: text, Fault: !c.Right, Step: c.Step, Why: why + whyCount(c)})
	}
	return b
}

func signed(v float64) string {
	text := notation.FormatNumber(v, 1)
	if v > 0 && text != "0" {
		return "+" + text
	}
	return text
}
