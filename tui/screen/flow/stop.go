package flow

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/volume"
	"loosebox/tui/needle"
)

const (
	whyField = "why"
	inField  = "in"
)

// Stop asks why something is stopped and how much went in, or was drawn: a key
// each, where the usual answers do.
type Stop struct {
	S       *Screen
	Asks    string // the question of the reasons
	Reasons []needle.Reason
	Why     string // the reason where it is known already; the reasons are not asked then
	Amount  string // the question of the amount; empty where nothing can have gone in
	HoldsML float64
	More    []Option // answers beside the reasons
	Done    func(why string, ml float64, known bool) tea.Cmd
	Back    func() Part
}

// Begin is the first part.
func (x Stop) Begin() Part {
	if x.Why != "" {
		return x.amount(x.Why, x.Back)
	}
	var options []Option
	for _, r := range x.Reasons {
		options = append(options, Option{Letter: r.Press, Words: r.Words, Do: func() tea.Cmd { return x.because(r.Words) }})
	}
	options = append(append(options, x.More...), Option{Letter: needle.OwnWords, Words: "in other words", Do: func() tea.Cmd {
		x.S.Show(x.words())
		return nil
	}})
	return &Pick{S: x.S, Cursor: -1, Options: options, Back: x.Back, Head: func(width int) []string {
		return append([]string{""}, x.S.Asks(width, x.Asks)...)
	}}
}

// words asks for a reason of one's own.
func (x Stop) words() Part {
	a := Blank()
	fields := []needle.Field{{Key: whyField, Label: "why", Limit: 160, Check: func(text string) error {
		if text == "" {
			return &exam.Refusal{Why: "say why in a few words"}
		}
		return nil
	}}}
	sheet := NewSheet(x.S, "go on", "go on", a, fields, func(width int) []string { return x.S.Asks(width, x.Asks) }, func() tea.Cmd {
		return x.because(a.Get(whyField))
	})
	return &backTo{sheet, x.S, x.Begin}
}

// because goes on to the amount, or writes it down.
func (x Stop) because(why string) tea.Cmd {
	if x.Amount == "" {
		return x.Done(why, 0, true)
	}
	x.S.Show(x.amount(why, x.Begin))
	return nil
}

// amount asks how much; an amount that is neither nothing nor what the tubes hold
// is typed.
func (x Stop) amount(why string, back func() Part) Part {
	var options []Option
	if x.HoldsML > 0 {
		options = append(options, Option{Letter: "t", Words: "what the tubes hold: " + volume.Plain(x.HoldsML) + " mL", Do: func() tea.Cmd { return x.Done(why, x.HoldsML, true) }})
	} else {
		options = append(options, Option{Letter: "n", Words: "nothing", Do: func() tea.Cmd { return x.Done(why, 0, true) }})
	}
	options = append(
		options,
		Option{Letter: "a", Words: "another amount, typed next", Do: func() tea.Cmd { x.S.Show(x.typed(why, back)); return nil }},
		Option{Letter: "k", Words: "not known", Hint: "the veterinarian is told so", Do: func() tea.Cmd { return x.Done(why, 0, false) }},
	)
	return &Pick{S: x.S, Cursor: -1, Options: options, Back: back, Head: func(width int) []string {
		return append([]string{""}, x.S.Asks(width, x.Amount, "why: "+exam.CleanLine(why, 0))...)
	}}
}

// typed asks for the amount in mL.
func (x Stop) typed(why string, back func() Part) Part {
	a := Blank()
	fields := []needle.Field{{Key: inField, Label: "mL", Limit: 20, Check: needle.CheckAmount, Hint: func(string) string {
		return "in mL, 0 for nothing; or: " + needle.NotKnown
	}}}
	sheet := NewSheet(x.S, "stopped: write it down", "write it down", a, fields, func(width int) []string { return x.S.Asks(width, x.Amount) }, func() tea.Cmd {
		ml, known := needle.ReadAmount(a.Get(inField))
		return x.Done(why, ml, known)
	})
	return &backTo{sheet, x.S, func() Part { return x.amount(why, back) }}
}
