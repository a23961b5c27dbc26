package draw

import (
	"fmt"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

const (
	inML   = "mL"
	turned = "turned"
	fill   = "fill"
	whole  = "whole"
	short  = "short"
)

// filling is the next tube, or after the last one the end of the draw.
func (s *screen) filling(d exam.Draw) flow.Part {
	stick, _ := d.NeedleIn()
	if stick.Seq != s.lately {
		return s.resume(d, stick)
	}
	s.tell()
	left := needle.TubesLeft(d)
	if len(left) == 0 {
		return s.all(d)
	}
	return s.tube(d, left[0])
}

// tube is one tube: how it is filled and mixed, its label, and its own letter when
// it is full. A tube whose size is not known is typed.
func (s *screen) tube(d exam.Draw, t exam.Tube) flow.Part {
	var options []flow.Option
	if t.ML > 0 {
		options = append(options, flow.Option{
			Letter: needle.TubeLetter(len(d.Filled)), Words: fmt.Sprintf("%s is filled, %s mL", t.Kind, volume.Plain(t.ML)), Do: func() tea.Cmd { return s.full(d, exam.Tube{Kind: t.Kind, ML: t.ML}) },
		})
	}
	options = append(options, flow.Option{Letter: "e", Words: "another amount, not filled correctly, or times turned", Do: func() tea.Cmd { s.Show(s.typed(d, t)); return nil }})
	if len(d.Filled) == 0 {
		options = append(options, flow.Option{Letter: "n", Words: "no blood came, the needle is out", Do: func() tea.Cmd {
			return s.Draw(exam.DrawLine{Number: d.Number, Phase: exam.DrawMissed})
		}})
	} else {
		options = append(options, flow.Option{Letter: "l", Words: "no more tubes: the needle is out", Do: func() tea.Cmd { s.Show(s.all(d)); return nil }})
	}
	return &flow.Pick{S: s.Screen, Cursor: -1, Options: options, More: s.extras(d), Leaving: leaving, Head: func(width int) []string { return s.head(d, t, width) }}
}

// full writes down a tube.
func (s *screen) full(d exam.Draw, t exam.Tube) tea.Cmd {
	t.Label = strings.Join(needle.LabelOf(s.Stand.Horse, d, t.Kind), " / ")
	return s.Draw(exam.DrawLine{Number: d.Number, Phase: exam.DrawTube, Tube: &t})
}

// typed asks what is in a tube, how often it was turned and how it was filled.
func (s *screen) typed(d exam.Draw, t exam.Tube) flow.Part {
	a := flow.Blank()
	if t.ML > 0 {
		a.Put(inML, volume.Plain(t.ML))
	}
	a.Put(fill, whole)
	fields := []needle.Field{
		{Key: inML, Label: "in it, mL", Limit: 12, Check: checkML, Hint: func(string) string { return needle.TubeOf(t.Kind).Fill }},
		{Key: turned, Label: "turned, times", Limit: 2, Check: checkTurned, Hint: func(string) string { return needle.TubeOf(t.Kind).Mix }},
		{Key: fill, Label: "filled", Choices: []exam.Choice{{Key: whole, Words: "as it must be"}, {Key: short, Words: "short, or over-full"}}},
	}
	sheet := flow.NewSheet(s.Screen, t.Kind+" is filled", "filled", a, fields, func(width int) []string { return s.head(d, t, width) }, func() tea.Cmd {
		ml, _ := needle.ML(a.Get(inML))
		n, _ := strconv.Atoi(a.Get(turned))
		return s.full(d, exam.Tube{Kind: t.Kind, ML: ml, Inversions: n, Short: a.Get(fill) == short})
	})
	return flow.BackTo(sheet, s.Screen, func() flow.Part { return s.tube(d, t) })
}

const leaving = "A needle is in. esc again leaves, and what happened is asked when you come back."

func checkML(text string) error {
	ml, err := needle.ML(text)
	if err == nil && ml <= 0 {
		return &exam.Refusal{Why: "a tube that is filled holds more than 0 mL; x says that no blood came"}
	}
	return err
}

func checkTurned(text string) error {
	if n, err := strconv.Atoi(text); text != "" && (err != nil || n < 0) {
		return &exam.Refusal{Typed: text, Why: "how often it was turned upside down, a number, or nothing"}
	}
	return nil
}

// head is where the draw stands and what the tube needs.
func (s *screen) head(d exam.Draw, t exam.Tube, width int) []string {
	th, kind := s.Deps.Theme, needle.TubeOf(t.Kind)
	lines := []string{s.row(d, t.Kind, width), th.Strong.Render(layout.Cut(fmt.Sprintf("Fill %s, %s: %s", t.Kind, kind.Cap, kind.For), width))}
	if why, good := procedure.InDrawOrder(d.Filled, t.Kind); !good {
		for _, l := range layout.Wrap("! "+why, width) {
			lines = append(lines, th.Caution.Render(l))
		}
	}
	lines = append(lines, layout.Wrap(exam.CleanNote("Label: "+strings.Join(needle.LabelOf(s.Stand.Horse, d, t.Kind), " / ")), width)...)
	lines = append(lines, s.limits(d, width)...)
	for _, text := range []string{"Fill: " + kind.Fill, "Mix: " + kind.Mix, volume.LabelRule} {
		lines = append(lines, layout.Wrap(exam.CleanNote(text), width)...)
	}
	return lines
}

// row is the tubes in the order of draw, each with its sign, and which is filled now.
func (s *screen) row(d exam.Draw, now string, width int) string {
	th := s.Deps.Theme
	var parts []string
	for _, f := range d.Filled {
		parts = append(parts, th.Sign.Done+" "+f.Kind)
	}
	for _, t := range needle.TubesLeft(d) {
		sign := th.Sign.Left
		if t.Kind == now {
			sign, now = th.Sign.Now, "" // of two of a kind the first
		}
		parts = append(parts, sign+" "+t.Kind)
	}
	if now != "" { // one that was not ordered
		parts = append(parts, th.Sign.Now+" "+now)
	}
	return layout.Cut(strings.Join(parts, "   "), width)
}

// limits sets what is drawn and still to come beside the limits of blood.
func (s *screen) limits(d exam.Draw, width int) []string {
	ml := d.DrawnML()
	for _, t := range needle.TubesLeft(d) {
		ml += t.ML
	}
	kg := s.kg()
	if kg <= 0 || ml <= 0 {
		return nil
	}
	before := s.Stand // the limits hold against what was drawn before this draw
	before.All = needle.Without(before.All, s.ID, d.Number)
	line, over := needle.LimitLine(before, kg, ml, s.Deps.Now())
	var out []string
	for _, l := range over {
		for _, w := range layout.Wrap(l, width) {
			out = append(out, s.Deps.Theme.Caution.Render(w))
		}
	}
	return append(out, s.Deps.Theme.Faint.Render(layout.Cut(line, width)))
}

// kg is the weight of the order, or the record's.
func (s *screen) kg() float64 {
	if s.sheet != nil {
		if q, err := volume.ParseWeight(s.sheet.Get(needle.Weight)); err == nil {
			kg, _ := q.In(exam.Kilograms)
			return kg.Value
		}
	}
	return s.Stand.Weight(s.Deps.Now()).Kg
}

// extras are the keys that are there while a needle is in.
func (s *screen) extras(d exam.Draw) []flow.Extra {
	return []flow.Extra{
		{Binding: keys.Order().With("another tube", "fill another tube than the next in the order of draw"), Do: func() tea.Cmd { s.Show(s.another(d)); return nil }},
		{Binding: keys.NotDone().With("stop", "write down that the draw is stopped, why, and how much was drawn"), Do: func() tea.Cmd { s.Show(s.stopping(d)); return nil }},
	}
}

// another chooses a tube out of turn; one that comes earlier in the order of draw
// than a full one is asked about.
func (s *screen) another(d exam.Draw) flow.Part {
	var options []flow.Option
	add := func(t exam.Tube, words string) {
		why, good := procedure.InDrawOrder(d.Filled, t.Kind)
		if !good {
			words += " (out of order)"
		}
		options = append(options, flow.Option{Words: words, Hint: why, Do: func() tea.Cmd { s.Show(s.tube(d, t)); return nil }})
	}
	ordered := map[string]bool{}
	for _, t := range needle.TubesLeft(d) {
		if !ordered[t.Kind] {
			add(t, t.Kind)
		}
		ordered[t.Kind] = true
	}
	for _, t := range volume.BloodTubes() {
		if !ordered[string(t.Kind)] {
			add(exam.Tube{Kind: string(t.Kind), ML: t.SizeML}, string(t.Kind)+", one that was not ordered")
		}
	}
	for i := range options { // letters, as a needle is in
		options[i].Letter = needle.TubeLetter(len(d.Filled) + 1 + i)
	}
	return &flow.Pick{S: s.Screen, Cursor: -1, Options: options, Back: s.Next, Head: func(int) []string {
		return []string{s.Deps.Theme.Strong.Render("Which tube is filled next?")}
	}}
}
