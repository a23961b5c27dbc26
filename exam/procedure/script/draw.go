package script

import (
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

// blood is a blood draw: what it is for, the tubes in the order of draw with their
// labels, the vein, and each tube as it is filled.
type blood struct {
	run
	sheet *order.BloodSheet
}

func newDraw(at *order.Case, number int, _ Name) Script {
	return &blood{run: run{Case: at, number: number}}
}

// Begun says that the record has it.
func (s *blood) Begun() bool {
	_, ok := s.now()
	return ok
}

func (s *blood) now() (exam.Draw, bool) { return s.Visit.Draw(s.number) }

// Title names the horse and what the blood is for.
func (s *blood) Title() string {
	title := s.named("Blood draw")
	if d, ok := s.now(); ok {
		title += " · " + notation.CleanLine(d.Order.For, 40)
	}
	return title
}

// State says which draw it is and how far.
func (s *blood) State() string {
	d, ok := s.now()
	if !ok {
		return "new"
	}
	return fmt.Sprintf("%d: %s", d.Number, d.State)
}

// Sources says where amounts, tubes, needle and veins come from.
func (s *blood) Sources() []explain.Part {
	if d, ok := s.now(); ok {
		return order.DrawSources(s.before(d), s.kg(), all(d), s.Now())
	}
	if s.sheet == nil {
		return nil
	}
	return s.sheet.Sources()
}

// all is what is drawn and still to come.
func all(d exam.Draw) float64 {
	ml := d.DrawnML()
	for _, t := range tubesLeft(d) {
		ml += t.ML
	}
	return ml
}

// before is the visit without this draw: the limits hold against what was drawn
// before it.
func (s *blood) before(d exam.Draw) order.Stand {
	stand := s.Stand
	stand.All = order.Without(stand.All, s.Visit.ID, d.Number)
	return stand
}

// kg is the weight of the order, or the record's.
func (s *blood) kg() float64 {
	if s.sheet != nil {
		if q, err := volume.ParseWeight(s.sheet.Get(order.Weight)); err == nil {
			kg, _ := q.In(notation.Kilograms)
			return kg.Value
		}
	}
	return s.Weight(s.Now()).Kg
}

// Next is what comes next for the visit as it stands.
func (s *blood) Next() Move {
	if open := s.Visit.OpenInjections(); len(open) > 0 {
		return s.other(Injection, open[0].Number)
	}
	if open := s.Visit.OpenDraws(); len(open) > 0 && open[0].Number != s.number {
		if s.number > 0 {
			return s.other(BloodDraw, open[0].Number)
		}
		s.number = open[0].Number
	}
	d, begun := s.now()
	if !begun {
		return s.begin()
	}
	s.signs(d.By)
	stick, in := d.NeedleIn()
	switch {
	case d.Finished():
		return next(s.ended(d))
	case in && stick.Seq != s.lately:
		return next(s.resume(d, stick))
	case in:
		return next(s.filling(d))
	}
	return next(s.placing(d))
}

// begin asks the gate, then what the blood is for. A draw that was ordered and not
// begun is gone on with.
func (s *blood) begin() Move {
	for _, d := range s.Visit.Draws {
		if !d.Finished() && s.sheet == nil {
			s.number = d.Number
			return s.Next()
		}
	}
	if _, err := s.Drawing(s.Now()); err != nil {
		return next(locked(err))
	}
	if s.sheet == nil {
		s.sheet = order.NewBloodSheet(s.Case)
	}
	return next(s.ordering())
}

// ordering is the order form.
func (s *blood) ordering() *Question {
	return &Question{
		ID: "draw order", Moment: procedure.AtDraw, Leaving: "Nothing is written down yet. esc again leaves, and what was typed is lost.",
		Form: &Form{Fields: s.sheet.Fields(), To: s.sheet, Action: "to the check list", Does: "check list", Done: s.listed},
	}
}

// listed is the check list, once the order is whole and the gate is open.
func (s *blood) listed() Move {
	o, err := s.sheet.Order()
	if err != nil {
		return say(err.Error())
	}
	decided, err := s.Drawing(s.Now())
	if err != nil {
		return next(locked(err))
	}
	return next(&Question{
		ID: "draw checks", Moment: procedure.AtDraw, Back: s.ordering,
		Checks: &Checks{order.DrawPoints(s.Stand, o, s.sheet.Over(), decided, s.Now()), func(given []exam.Checked) Move {
			s.number, s.by = len(s.Visit.Draws)+1, s.sheet.Get(order.DrawnBy)
			return write(draws(exam.DrawLine{Number: s.number, Phase: exam.DrawReady, Order: &o, Checks: given}))
		}},
	})
}

// placing is the choice of the vein; the gate is asked again.
func (s *blood) placing(d exam.Draw) *Question {
	stop := Option{Key: "x", Words: "not drawn", Hint: "write down that no blood is drawn, and why", Do: func() Move { return next(s.stopping(d)) }}
	if _, err := s.Drawing(s.Now()); err != nil {
		return locked(err, stop)
	}
	var notes []string
	if d.Order.Official {
		notes = append(notes, "Drawn by "+notation.CleanLine(d.Order.VetDraws, 60)+", as the law has it.")
	}
	before := ""
	if n := len(d.Sticks); n > 0 {
		notes = append(notes, "No blood came at "+d.Sticks[n-1].Place.String()+". A new needle.")
		before = d.Sticks[n-1].Needle
	}
	if many, is := procedure.Sticks(d); is {
		notes = append(notes, many)
	}
	return &Question{
		ID: "draw vein", Moment: procedure.AtDraw, Ask: "Which vein?", More: []Option{stop},
		Places: &Places{procedure.Veins(s.All), true, strings.Join(notes, " "), func(c procedure.Choice) Move {
			return next(inserting(c, procedure.AtDraw, before, order.DrawNeedle+"; a finer one breaks red cells", func(at exam.Place, which string) Move {
				s.lately = s.Visit.Entries + 1
				return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawNeedleIn, Place: at, Needle: which}))
			}, func() *Question { return s.placing(d) }))
		}},
	}
}

// stopping asks why it was stopped, and of a needle that is in how much was drawn.
func (s *blood) stopping(d exam.Draw) *Question {
	x := stop{
		id: "draw stopped", asks: "Not drawn. Why?", reasons: WhyNotDrawn(), holdsML: d.DrawnML(), back: back(s),
		done: func(why string, ml float64, known bool) Move {
			return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawStopped, Why: why, VolumeML: ml, NotKnown: !known}))
		},
	}
	if _, in := d.NeedleIn(); in {
		x.asks, x.amount = "Stopped. Why?", "How much was drawn?"
	}
	return x.begin()
}

// extras are the keys that are there while a needle is in.
func (s *blood) extras(d exam.Draw) []Option {
	return []Option{
		{Key: "o", Words: "another tube", Hint: "fill another tube than the next in the order of draw", Do: func() Move { return next(s.another(d)) }},
		{Key: "x", Words: "stop", Hint: "write down that the draw is stopped, why, and how much was drawn", Do: func() Move { return next(s.stopping(d)) }},
	}
}

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
	q := &Question{ID: "draw tube", Moment: procedure.AtDraw, Leaving: leaving, More: s.extras(d), Head: s.tubeHead(d, t)}
	a := order.Answers{}
	if t.ML > 0 {
		q.Options = append(q.Options, Option{
			Key: TubeLetter(len(d.Filled)), Words: fmt.Sprintf("%s is filled, %s mL", t.Kind, volume.Plain(t.ML)), Also: []string{"filled"}, Rest: "e",
			Then: &Form{Fields: []order.Field{timesTurned(t)}, To: a},
			Do:   func() Move { return s.full(d, exam.Tube{Kind: t.Kind, ML: t.ML, Inversions: times(a)}) },
		})
	}
	q.Options = append(q.Options, Option{Key: "e", Words: "another amount, not filled correctly, or times turned", Do: func() Move { return next(s.typed(d, t, whole)) }})
	q.Prompts = []Option{{Also: []string{short}, Words: "short and the mL where it is not filled correctly", Do: func() Move { return next(s.typed(d, t, short)) }}}
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
		Key: turned, Label: "turned, times", Ask: "How often was it turned upside down? Enter alone where it was not.", Limit: 2,
		Check: func(text string) error {
			if n, err := strconv.Atoi(text); text != "" && (err != nil || n < 0) {
				return &notation.Refusal{Typed: text, Why: "how often it was turned upside down, a number, or nothing"}
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
				{Key: fill, Label: "filled", Choices: []exam.Choice{{Key: whole, Words: "as it must be"}, {Key: short, Words: "short, or over-full"}}, Spare: true},
			},
			To: a, Action: t.Kind + " is filled", Does: "filled", Done: func() Move {
				ml, _ := order.ML(a.Get(inML))
				return s.full(d, exam.Tube{Kind: t.Kind, ML: ml, Inversions: times(a), Short: a.Get(fill) == short})
			},
		},
	}
}

// tubeHead is where the draw stands and what the tube needs.
func (s *blood) tubeHead(d exam.Draw, t exam.Tube) []Text {
	kind := tubeOf(t.Kind)
	head := []Text{row(d, t.Kind), {Words: fmt.Sprintf("Fill %s, %s: %s", t.Kind, kind.Cap, kind.For), Tone: Strong, Cut: true}}
	if why, good := procedure.InDrawOrder(d.Filled, t.Kind); !good {
		head = append(head, Text{Words: "! " + why, Tone: Caution})
	}
	head = append(head, Text{Words: "Label: " + strings.Join(labelOf(s.Horse, d, t.Kind), " / ")})
	if kg := s.kg(); kg > 0 && all(d) > 0 {
		line, over := order.LimitLine(s.before(d), kg, all(d), s.Now())
		for _, l := range over {
			head = append(head, Text{Words: l, Tone: Caution})
		}
		head = append(head, Text{Words: line, Tone: Faint, Cut: true})
	}
	return append(head, plain("Fill: "+kind.Fill, "Mix: "+kind.Mix, volume.LabelRule)...)
}

// row is the tubes in the order of draw, and which is filled now.
func row(d exam.Draw, now string) Text {
	var steps []Step
	for _, f := range d.Filled {
		steps = append(steps, Step{f.Kind, Done})
	}
	for _, t := range tubesLeft(d) {
		state := Left
		if t.Kind == now {
			state, now = Now, "" // of two of a kind the first
		}
		steps = append(steps, Step{t.Kind, state})
	}
	if now != "" { // one that was not ordered
		steps = append(steps, Step{now, Now})
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
	ordered := map[string]bool{}
	for _, t := range tubesLeft(d) {
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
	return q
}

// end is the end of the draw: the needle is out, and it was what the tubes hold, or
// another amount in all.
func (s *blood) end(d exam.Draw) *Question {
	return &Question{
		ID: "draw end", Moment: procedure.AtDraw, Leaving: leaving, More: s.extras(d), Head: endHead(d), Free: "e", Alone: "d",
		Options: []Option{
			{Key: "d", Words: volume.Plain(d.DrawnML()) + " mL in all; the needle is out", Do: func() Move {
				return write(draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawDone, VolumeML: d.DrawnML()}))
			}},
			{Key: "e", Words: "another amount in all; the needle is out", Do: func() Move { return next(s.inAll(d)) }},
		},
	}
}

func endHead(d exam.Draw) []Text {
	drawn := fmt.Sprintf("%d tubes, %s mL in them. Needle out, press on the vein.", len(d.Filled), volume.Plain(d.DrawnML()))
	return []Text{row(d, ""), {Words: drawn, Tone: Strong, Cut: true}, {Words: volume.LabelRule}}
}

// inAll asks for the amount with what was thrown away.
func (s *blood) inAll(d exam.Draw) *Question {
	q := s.amount(d, "drawn, the needle is out", "drawn", false)
	q.ID, q.Head, q.Back = "draw amount", endHead(d), func() *Question { return s.end(d) }
	q.Form.Fields[0].Hint = func(string) string { return "what is in the tubes, and what was thrown away" }
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

// ended says what is written down, with the labels once more.
func (s *blood) ended(d exam.Draw) *Question {
	return &Question{
		ID: "draw ended", Moment: procedure.AtNeedleOut, Head: s.summary(d), Listed: true, Over: true,
		Ask: fmt.Sprintf("Written down: %s, %s mL.", d.State, volume.Plain(d.DrawnML())),
		Options: []Option{hub(), {Words: "another draw", Do: func() Move {
			s.number, s.lately = 0, 0
			s.sheet = order.NewBloodSheet(s.Case)
			return Move{}
		}}},
	}
}

func (s *blood) summary(d exam.Draw) []Text {
	amount := volume.Plain(d.DrawnML()) + " mL"
	if d.NotKnown {
		amount = "how much is not known"
	}
	head := []Text{{Words: fmt.Sprintf("Written down: %s, %s, by %s", d.State, amount, notation.CleanLine(d.EndBy, 40)), Tone: Strong, Cut: true}}
	for _, f := range d.Filled {
		text := fmt.Sprintf("%s, %s mL", f.Kind, volume.Plain(f.ML))
		if f.Short {
			text += ", not filled as it must be"
		}
		head = append(head, Text{Words: text + ": " + f.Label})
	}
	for _, m := range tubesLeft(d) {
		head = append(head, Text{Words: "not filled: " + notation.CleanLine(m.Kind, 40), Tone: Warn, Cut: true})
	}
	if d.Why != "" {
		head = append(head, Text{Words: "why: " + notation.CleanLine(d.Why, 0)})
	}
	if d.Sign != "" {
		head = append(head, tellVet(d.SignWords))
	}
	return head
}

// resume asks what happened to a needle that went in before this script ran.
func (s *blood) resume(d exam.Draw, stick exam.Stick) *Question {
	s.by = "" // who says it now
	stored := func(phase exam.DrawPhase, why string, ml float64, known bool) func() Move {
		return func() Move {
			return write(draws(exam.DrawLine{Number: d.Number, Phase: phase, Why: why, VolumeML: ml, NotKnown: !known, Afterwards: true}))
		}
	}
	q := &Question{
		ID: "draw resume",
		Head: asks(
			fmt.Sprintf("The needle went in at %s; what happened?", stick.At.Format("2006-01-02 15:04")),
			fmt.Sprintf("for %s, %s", notation.CleanLine(d.Order.For, 40), stick.Place),
			fmt.Sprintf("by %s; tubes filled since: %d, %s mL", notation.CleanLine(stick.By, 40), len(d.Filled), volume.Plain(d.DrawnML())),
		),
		Options: []Option{
			{Key: "d", Words: "it was drawn", Hint: "how much is asked next", Do: func() Move { return next(s.amount(d, "drawn: write it down", "drawn", true)) }},
			{Key: "k", Words: "it was drawn, how much is not known", Do: stored(exam.DrawDone, "", 0, false)},
		},
	}
	if len(d.Filled) == 0 {
		q.Options = append(q.Options, Option{Key: "o", Words: "no blood came, the needle is out", Hint: "another needle follows", Do: stored(exam.DrawMissed, "", 0, true)})
	}
	q.Options = append(
		q.Options,
		Option{Key: "n", Words: "it was stopped", Hint: "with what the tubes hold", Do: stored(exam.DrawStopped, "interrupted: the needle is out", d.DrawnML(), true)},
		Option{
			Key: "u", Words: "nobody knows", Hint: "written down as stopped, amount not known: tell the vet",
			Do: stored(exam.DrawStopped, "interrupted: nobody can say how much was drawn", 0, false),
		},
		Option{Key: "i", Words: "the needle is in now", Hint: "the draw goes on from here", Do: func() Move {
			s.lately = stick.Seq
			return Move{}
		}},
	)
	return q
}

const drawHelp = `draw goes through one blood draw: what it is for, the tubes in the order of draw,
each with its label, beside how much blood may go, the vein, and each tube as it is
filled. Where no decision of the veterinarian covers it, it ends with code 6.`
