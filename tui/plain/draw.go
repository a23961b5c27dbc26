package plain

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

// Draw goes through one blood draw of a visit; number 0 begins one, or goes on
// with the one that was begun. Errors are those of Inject.
func (s *Session) Draw(id exam.VisitID, number int) error {
	w, err := s.work(id, nav.Draw, number)
	if err != nil {
		return err
	}
	if err := w.needleFirst(); err != nil {
		return err
	}
	for _, d := range w.stand.Visit.Draws {
		if w.number == 0 && !d.Finished() {
			w.number = d.Number
		}
	}
	return w.run(w.blood)
}

// blood is the next step of a draw.
func (w *work) blood() (over bool, err error) {
	d, ok := w.stand.Visit.Draw(w.number)
	if w.number > 0 && !ok {
		return false, fmt.Errorf("blood draw %d of this visit: %w", w.number, exam.ErrNotFound)
	}
	stick, in := d.NeedleIn()
	if in && stick.Seq != w.lately {
		return false, w.resumeDraw(d, stick)
	}
	switch needle.StageOfDraw(d) {
	case needle.Ordering:
		return false, w.orderBlood()
	case needle.Placing:
		return false, w.stick(d)
	case needle.Giving:
		return false, w.fill(d)
	case needle.Ended, needle.Seeing:
	}
	w.endedDraw(d)
	return true, nil
}

func (w *work) orderBlood() error {
	decided, err := w.stand.Drawing(w.Deps.Now())
	if err != nil {
		return err
	}
	w.tell(procedure.AtDraw)
	sheet := needle.NewBloodSheet(w.Deps, w.stand)
	sheet.Put(needle.DrawnBy, w.by)
	if err := w.sheet(sheet, sheet.Fields()); err != nil {
		return err
	}
	o, err := sheet.Order()
	var refusal *exam.Refusal
	if errors.As(err, &refusal) {
		w.line("Not taken: %s.", strings.TrimSuffix(refusal.Error(), "."))
		return errMoved
	}
	if err != nil {
		return err
	}
	given, err := w.checks(needle.DrawPoints(w.stand, o, sheet.Over(), decided, w.Deps.Now()))
	if err != nil {
		return err
	}
	w.number, w.by = len(w.stand.Visit.Draws)+1, sheet.Get(needle.DrawnBy)
	err = w.draws(exam.DrawLine{Number: w.number, Phase: exam.DrawReady, Order: &o, Checks: given})
	if err != nil {
		w.number = 0
	}
	return err
}

// stick asks for the vein and waits for the needle; the gate is asked before.
func (w *work) stick(d exam.Draw) error {
	if _, err := w.stand.Drawing(w.Deps.Now()); err != nil {
		return err
	}
	w.tell(procedure.AtDraw)
	before := ""
	if n := len(d.Sticks); n > 0 {
		w.line("No blood came at %s. A new needle.", d.Sticks[n-1].Place)
		before = d.Sticks[n-1].Needle
	}
	if many, is := procedure.Sticks(d); is {
		w.line("Caution: %s", many)
	}
	c, err := w.place("Which vein?", needle.Veins(w.stand, w.Deps.Now()), true)
	if err != nil {
		return err
	}
	which, in, err := w.needleIn(before)
	if err != nil || !in {
		return err
	}
	w.lately = w.stand.Visit.Entries + 1
	return w.draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawNeedleIn, Place: c.Place(), Needle: which})
}

// fill asks for the next tube in the order of draw, or for the end.
func (w *work) fill(d exam.Draw) error {
	left := needle.TubesLeft(d)
	if len(left) == 0 {
		return w.done(d)
	}
	t, kind := left[0], needle.TubeOf(left[0].Kind)
	label := strings.Join(needle.LabelOf(w.stand.Horse, d, t.Kind), " / ")
	letter := needle.TubeLetter(len(d.Filled))
	instead := "n where no blood came"
	if len(d.Filled) > 0 {
		instead = "l for no more tubes"
	}
	text, err := w.ask("Fill %s (%s). Fill: %s. Mix: %s. Label: %s. Type %s when it is filled, %s and the mL for another amount, or short and the mL; %s; x and why it is stopped.",
		t.Kind, kind.Cap, kind.Fill, kind.Mix, label, letter, letter, instead)
	if err != nil {
		return err
	}
	word, rest, _ := strings.Cut(text, " ")
	switch strings.ToLower(word) {
	case letter, "filled", "short":
		return w.tube(d, t, strings.EqualFold(word, "short"), rest, label)
	case "n", "missed":
		if len(d.Filled) > 0 {
			w.line("Blood came already: type l for no more tubes.")
			return nil
		}
		return w.draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawMissed})
	case "l", "done":
		return w.done(d)
	case "x", "stop":
		return w.stopDraw(d, rest)
	}
	w.line("Nothing is written down: type %s for filled, %s, or x and why.", letter, instead)
	return nil
}

// tube writes down a tube that is full, or short of it.
func (w *work) tube(d exam.Draw, t exam.Tube, short bool, ml, label string) error {
	var err error
	full := exam.Tube{Kind: t.Kind, ML: t.ML, Short: short, Label: label}
	if ml != "" || full.ML <= 0 {
		if full.ML, err = needle.ML(ml); err != nil {
			w.line("Not taken: %s.", strings.TrimSuffix(err.Error(), "."))
			return nil
		}
	}
	turned, err := w.ask("How often was it turned upside down? Enter alone where it was not.")
	if err != nil {
		return err
	}
	if full.Inversions, err = strconv.Atoi(turned); turned != "" && err != nil {
		w.line("Not a number: it is written down without.")
	}
	return w.draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawTube, Tube: &full})
}

func (w *work) done(d exam.Draw) error {
	ml, known, err := w.amount("Needle out, press on the vein. How many mL in all?", volume.Plain(d.DrawnML()))
	if err != nil {
		return err
	}
	w.line("%s", volume.LabelRule)
	return w.draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawDone, VolumeML: ml, NotKnown: !known})
}

func (w *work) stopDraw(d exam.Draw, why string) error {
	why, err := w.because("Stopped. Why?", strings.TrimSpace(why), needle.WhyNotDrawn())
	if err != nil {
		return err
	}
	ml, known, err := w.amount("How many mL were drawn?", volume.Plain(d.DrawnML()))
	if err != nil {
		return err
	}
	return w.draws(exam.DrawLine{Number: d.Number, Phase: exam.DrawStopped, Why: why, VolumeML: ml, NotKnown: !known})
}

// resumeDraw asks what happened to a needle that went in before this session.
func (w *work) resumeDraw(d exam.Draw, stick exam.Stick) error {
	n, err := w.letter(fmt.Sprintf("The needle went in at %s, %s; %d tubes are filled since. What happened?", stick.At.Format("2006-01-02 15:04"), stick.Place, len(d.Filled)), []lettered{
		{"d", "it was drawn"},
		{"k", "it was drawn, how much is not known"},
		{"o", "no blood came, the needle is out"},
		{"n", "it was stopped"},
		{"u", "nobody knows"},
		{"i", "the needle is in now"},
	})
	if err != nil {
		return err
	}
	l := exam.DrawLine{Number: d.Number, Afterwards: true}
	switch n {
	case 0:
		ml, known, err := w.amount("How many mL in all?", volume.Plain(d.DrawnML()))
		if err != nil {
			return err
		}
		l.Phase, l.VolumeML, l.NotKnown = exam.DrawDone, ml, !known
	case 1:
		l.Phase, l.NotKnown = exam.DrawDone, true
	case 2:
		if l.Phase = exam.DrawMissed; len(d.Filled) > 0 {
			w.line("Not taken: tubes are filled already, so blood came.")
			return nil
		}
	case 3:
		l.Phase, l.Why, l.VolumeML = exam.DrawStopped, "interrupted: the needle is out", d.DrawnML()
	case 4:
		l.Phase, l.Why, l.NotKnown = exam.DrawStopped, "interrupted: nobody can say how much was drawn", true
	default:
		w.lately, w.by = stick.Seq, d.By
		return nil
	}
	return w.draws(l)
}

func (w *work) endedDraw(d exam.Draw) {
	w.line("Written down: %s, %s mL.", d.State, volume.Plain(d.DrawnML()))
	for _, f := range d.Filled {
		w.line("%s, %s mL: %s", exam.CleanLine(f.Kind, 40), volume.Plain(f.ML), exam.CleanLine(f.Label, 0))
	}
	w.tell(procedure.AtNeedleOut)
	if d.Sign != "" || d.NotKnown {
		w.line("TELL THE VET: %s", exam.CleanLine(d.SignWords+" "+d.Why, 0))
	}
}
