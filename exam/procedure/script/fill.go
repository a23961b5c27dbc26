package script

import (
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

// filling is the next tube, or after the last one the end of the draw.
func (s *blood) filling(d exam.Draw) *Question {
	if left := tubesLeft(d); len(left) > 0 {
		return s.tube(d, left[0])
	}
	return s.end(d)
}

const (
	turned = "turned"
	fill   = "fill"
	whole  = "whole"
	short  = "short"
)

// tube is one tube: how it is filled and mixed, its label, and its own letter when
// it is full. A tube whose size is not known is typed.
func (s *blood) tube(d exam.Draw, t exam.Tube) *Question {
	q := &Question{ID: "draw tube", Stage: procedure.AtDraw, Leaving: leaving, More: s.extras(d), Head: s.tubeHead(d, t)}
	a := order.Answers{}
	if t.ML > 0 {
		q.Options = append(q.Options, Option{
			Key: TubeLetter(len(d.Filled)), Words: fmt.Sprintf("%s is filled, %s mL", t.Kind, volume.Plain(t.ML)), Also: []string{"filled"}, Rest: "e",
			Then: &Form{Fields: []order.Field{timesTurned(t)}, To: a},
			Do:   func() Move { return s.full(d, exam.Tube{Kind: t.Kind, ML: t.ML, Inversions: times(a)}) },
		})
	}
	q.Options = append(q.Options, Option{Key: "e", Words: "another amount, not filled correctly, or inversions", Do: func() Move { return next(s.typed(d, t, whole)) }})
	q.Prompts = []Option{{Also: []string{short}, Words: "short and the mL if it is not filled correctly", Do: func() Move { return next(s.typed(d, t, short)) }}}
	if len(d.Filled) == 0 {
		q.Options = append(q.Options, Option{Key: "n", Words: "no blood came, the needle is out", Also: []string{"missed"}, Do: func() Move {
			return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawMissed}))
		}})
	} else {
		q.Options = append(q.Options, Option{Key: "l", Words: "no more tubes: the needle is out", Also: []string{"done"}, Do: func() Move { return next(s.end(d)) }})
	}
	return q
}

func timesTurned(t exam.Tube) order.Field {
	return order.Field{
		Key: turned, Label: "inversions", Ask: "How many inversions? Enter alone for none.", Limit: 2,
		Check: func(text string) error {
			if n, err := strconv.Atoi(text); text != "" && (err != nil || n < 0) {
				return &notation.Refusal{Typed: text, Why: "the number of inversions, or nothing"}
			}
			return nil
		},
		Hint: func(string) string { return tubeOf(t.Kind).Mix },
	}
}

func times(a order.Answers) int {
	n, _ := strconv.Atoi(a.Get(turned))
	return n
}

// full writes down a tube.
func (s *blood) full(d exam.Draw, t exam.Tube) Move {
	t.Label = strings.Join(labelOf(s.Horse, d, t.Kind), " / ")
	return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawTube, Tube: &t}))
}

// typed asks what is in a tube, how often it was turned and how it was filled.
func (s *blood) typed(d exam.Draw, t exam.Tube, filled string) *Question {
	a := order.Answers{fill: filled}
	if t.ML > 0 {
		a.Put(inML, volume.Plain(t.ML))
	}
	return &Question{
		ID: "draw tube typed", Head: s.tubeHead(d, t), Back: func() *Question { return s.tube(d, t) },
		Form: &Form{
			Fields: []order.Field{
				{
					Key: inML, Label: "in it, mL", Ask: "How many mL are in it?", Limit: 12, Check: order.Above("a tube that is filled holds more than 0 mL; x says that no blood came"),
					Hint: func(string) string { return tubeOf(t.Kind).Fill },
				},
				timesTurned(t),
				{Key: fill, Label: "filled", Choices: []exam.Choice{{Key: whole, Words: "correct level"}, {Key: short, Words: "short, or over-full"}}, Spare: true},
			},
			To: a, Action: t.Kind.String() + " is filled", Does: "filled", Done: func() Move {
				ml, _ := order.ML(a.Get(inML))
				return s.full(d, exam.Tube{Kind: t.Kind, ML: ml, Inversions: times(a), Short: a.Get(fill) == short})
			},
		},
	}
}

// tubeHead is where the draw stands and what the tube needs.
func (s *blood) tubeHead(d exam.Draw, t exam.Tube) []Text {
	kind := tubeOf(t.Kind)
	head := []Text{row(d, t.Kind), {Words: fmt.Sprintf("Fill %s, %s: %s", t.Kind, kind.Cap, kind.For), Tone: Strong}}
	if stick, in := d.NeedleIn(); in {
		head = append(head, s.setSince(stick.At)...)
	}
	if why, good := procedure.InDrawOrder(d.Filled, t.Kind); !good {
		head = append(head, Text{Words: "Check: " + why, Tone: Caution})
	}
	if kg := s.kg(); kg > 0 && all(d) > 0 {
		line, over := order.LimitLine(s.before(d), kg, all(d), s.Now())
		for _, l := range over {
			head = append(head, Text{Words: l, Tone: Caution})
		}
		head = append(head, Text{Words: line, Tone: Faint})
	}
	// A small window loses the last: the label stands on the screens after it as well.
	return append(head, plain("Fill: "+kind.Fill, "Mix: "+kind.Mix, "Label: "+strings.Join(labelOf(s.Horse, d, t.Kind), " / "), volume.LabelRule)...)
}

// row is the tubes in the order of draw, and which is filled now.
func row(d exam.Draw, now exam.TubeKind) Text {
	var steps []ProgressStep
	for _, f := range d.Filled {
		steps = append(steps, ProgressStep{f.Kind.String(), Done})
	}
	for _, t := range tubesLeft(d) {
		state := Left
		if t.Kind == now {
			state, now = Now, "" // of two of a kind the first
		}
		steps = append(steps, ProgressStep{t.Kind.String(), state})
	}
	if now != "" { // one that was not ordered
		steps = append(steps, ProgressStep{now.String(), Now})
	}
	return Text{Steps: steps, Cut: true}
}

// another chooses a tube out of turn; one that comes earlier in the order of draw
// than a full one is asked about.
func (s *blood) another(d exam.Draw) *Question {
	q := &Question{ID: "draw another tube", Head: []Text{{Words: "Which tube is filled next?", Tone: Strong, Cut: true}}, Back: back(s)}
	add := func(t exam.Tube, words string) {
		why, good := procedure.InDrawOrder(d.Filled, t.Kind)
		if !good {
			words += " (out of order)"
		}
		letter := TubeLetter(len(d.Filled) + 1 + len(q.Options)) // as a needle is in
		q.Options = append(q.Options, Option{Key: letter, Words: words, Hint: why, Do: func() Move { return next(s.tube(d, t)) }})
	}
	ordered := map[exam.TubeKind]bool{}
	for _, t := range tubesLeft(d) {
		if !ordered[t.Kind] {
			add(t, t.Kind.String())
		}
		ordered[t.Kind] = true
	}
	for _, t := range volume.BloodTubes() {
		if !ordered[t.Kind] {
			add(exam.Tube{Kind: t.Kind, ML: t.SizeML}, t.Kind.String()+", one that was not ordered")
		}
	}
	return q
}

// end is the end of the draw: the needle is out, and it was what the tubes hold, or
// another amount in all.
func (s *blood) end(d exam.Draw) *Question {
	return &Question{
		ID: "draw end", Stage: procedure.AtDraw, Leaving: leaving, More: s.extras(d), Head: s.endHead(d), Free: "e", Alone: "d",
		Options: []Option{
			{Key: "d", Words: volume.Plain(d.DrawnML()) + " mL in all; the needle is out", Do: func() Move {
				return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawDone, VolumeML: d.DrawnML()}))
			}},
			{Key: "e", Words: "another amount in all; the needle is out", Do: func() Move { return next(s.inAll(d)) }},
		},
	}
}

func (s *blood) endHead(d exam.Draw) []Text {
	drawn := fmt.Sprintf("%d tubes, %s mL in them. Needle out, press on the vein.", len(d.Filled), volume.Plain(d.DrawnML()))
	head := []Text{row(d, ""), {Words: drawn, Tone: Strong, Cut: true}, {Words: volume.LabelRule}}
	if stick, in := d.NeedleIn(); in {
		head = append(head, s.setSince(stick.At)...)
	}
	return head
}

// inAll asks for the amount with what was thrown away.
func (s *blood) inAll(d exam.Draw) *Question {
	q := s.amount(d, "drawn, the needle is out", "drawn", false)
	q.ID, q.Head, q.Back = "draw amount", s.endHead(d), func() *Question { return s.end(d) }
	q.Form.Fields[0].Hint = func(string) string { return "what is in the tubes, and what was discarded" }
	return q
}

// amount asks for the amount in all.
func (s *blood) amount(d exam.Draw, action, does string, afterwards bool) *Question {
	a := order.Answers{}
	if ml := d.DrawnML(); ml > 0 {
		a.Put(inML, volume.Plain(ml))
	}
	return &Question{
		ID: "draw amount afterwards",
		Form: &Form{
			Fields: []order.Field{{Key: inML, Label: "in all, mL", Ask: "How many mL in all?", Limit: 12, Check: order.Above("no blood? Then it was stopped: esc, and x")}},
			To:     a, Action: action, Does: does, Done: func() Move {
				ml, _ := order.ML(a.Get(inML))
				return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawDone, VolumeML: ml, Afterwards: afterwards}))
			},
		},
	}
}
