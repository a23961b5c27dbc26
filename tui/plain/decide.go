package plain

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/notation"
)

// Decide asks for a decision of the veterinarian and stores it; a number other than 0 corrects the decision of that entry.
// ErrLeft where the input ends first.
func (s *Session) Decide(id exam.VisitID, number int) error {
	w, err := s.work(id)
	if err != nil {
		return err
	}
	w.number = number
	stands, found := w.standing(number)
	if number > 0 && !found {
		return exam.NoSuch("entry %d of this visit is no decision that stands", number)
	}
	if number > 0 {
		w.line("This corrects: %s, by %s: %q. It unlocks nothing new. A new order from the veterinarian is a new decision.",
			stands.Ruling, stands.Vet, notation.CleanNote(stands.Words))
	}
	return w.run(func() (bool, error) { return true, w.decide(stands.Decision) })
}

// decide asks for the decision, stores it, and lists what follows.
func (w *work) decide(stands exam.Decision) error {
	d, err := w.decision(stands)
	if err != nil {
		return err
	}
	e := exam.Entry{Kind: exam.EntryDecision, Corrects: w.number, Decision: &d}
	if w.number > 0 {
		e.Recheck = w.at.Visit.RecheckOf(w.number) // it is corrected together with its decision
		e.Reason, err = w.words("Why is it corrected?", "")
	} else if e.Reason, err = w.late(); err == nil {
		e.Recheck, err = w.recheck()
	}
	if err != nil {
		return err
	}
	if err := w.write(e); err != nil {
		return err
	}
	w.line("Saved. What follows:")
	return w.following()
}

// standing is the decision of an entry as it stands; for a new one, who was told.
func (w *work) standing(seq int) (d exam.Decided, found bool) {
	for _, d := range w.at.Visit.Decisions {
		if d.Seq == seq && !d.Corrected {
			return d, true
		}
	}
	if list := w.at.Visit.HandOffs; len(list) > 0 {
		d.Vet = list[len(list)-1].To
	}
	return d, false
}

// decision asks for the parts of a decision.
func (w *work) decision(stands exam.Decision) (exam.Decision, error) {
	d := exam.Decision{}
	var err error
	if d.Vet, err = w.words("Which veterinarian?", stands.Vet); err != nil {
		return d, err
	}
	how, err := w.choose("How was it given?", texts(exam.AllMeans()))
	if err != nil {
		return d, err
	}
	d.How = exam.AllMeans()[how]
	question := "In which words? Type them exactly."
	if d.How == exam.StandingOrder {
		question = "Which standing order? Its title, number and date."
	}
	if d.Words, err = w.words(question, stands.Words); err != nil {
		return d, err
	}
	ruling, err := w.choose("What is the decision: go ahead, wait or stop?", texts(exam.Rulings()))
	if err != nil {
		return d, err
	}
	d.Ruling = exam.Rulings()[ruling]
	if d.Covers, err = w.covers(d.Ruling, stands.Covers); err != nil {
		return d, err
	}
	if d.Until, err = w.until(stands.Until); err != nil {
		return d, err
	}
	d.ReadBack, err = w.yes("Were the words read back and confirmed?")
	return d, err
}

// texts are the words of keys.
func texts[T fmt.Stringer](list []T) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = x.String()
	}
	return out
}

// covers asks what a decision speaks of, a line each. Of a correction, enter alone
// at the first line keeps what stands.
func (w *work) covers(ruling exam.Ruling, stands []exam.CoveredProcedure) ([]exam.CoveredProcedure, error) {
	w.line("What does it cover? One a line: draw:WHAT FOR, or injection:PRODUCT:ROUTE:DOSE. Add how often after the dose: 3 times, 12 h apart; 2 sites.")
	end := "Enter alone: that is all."
	switch {
	case len(stands) > 0:
		words := make([]string, len(stands))
		for i, c := range stands {
			words[i] = c.Text()
		}
		end = "Enter alone: " + strings.Join(words, "; ") + ", as it stands."
	case ruling != exam.GoAhead:
		end = "Enter alone: everything."
	}
	var out []exam.CoveredProcedure
	for {
		text, err := w.ask("%s", end)
		switch {
		case err != nil:
			return nil, err
		case text == "" && len(out) == 0:
			return stands, nil
		case text == "":
			return out, nil
		}
		c, err := exam.ReadCover(text)
		if err != nil {
			w.line("Not saved: %s.", strings.TrimSuffix(err.Error(), "."))
			continue
		}
		out, end = append(out, c), "The next, or enter alone: that is all."
	}
}

func (w *work) until(stands *time.Time) (*time.Time, error) {
	offered := fmt.Sprintf("%.0f hours", exam.DecisionLasts.Hours())
	if stands != nil {
		offered = notation.ShownAt(*stands, w.Deps.Now())
	}
	for {
		text, err := w.ask("Valid until when? 18:00, tonight, tomorrow 8:00, 6h, 3d, 4 Mar 2026. Enter alone: %s.", offered)
		if err != nil {
			return nil, err
		}
		if text == "" {
			return stands, nil
		}
		at, err := notation.ReadUntil(text, w.Deps.Now())
		if err == nil {
			m := notation.Moment{Day: at.Format(notation.DayForm), At: at}
			w.line("Until %s.", m.Words(w.Deps.Now()))
			return at, nil
		}
		w.line("Not saved: %s.", strings.TrimSuffix(err.Error(), "."))
	}
}

// recheck asks for a day, or a time, at which something is looked at again. What was
// understood is said before it is stored.
func (w *work) recheck() (*exam.RecheckLine, error) {
	for {
		text, err := w.ask("When is the follow-up? 1h, 90 min, 20:00, tonight, tomorrow 8:00, Mon, 3d, 4 Mar 2026. Enter alone: none.")
		if err != nil || text == "" {
			return nil, err
		}
		when, err := notation.ReadMoment(text, w.Deps.Now())
		if err != nil {
			w.line("Not saved: %s.", strings.TrimSuffix(err.Error(), "."))
			continue
		}
		w.line("%s.", notation.Capital(when.Words(w.Deps.Now())))
		what, err := w.words("What is to be checked then?", "")
		line := exam.RecheckAt(when, what)
		return &line, err
	}
}

// After lists what follows the exam of a visit. The number is not used. An error where the visit cannot be read.
func (s *Session) After(id exam.VisitID, _ int) error {
	w, err := s.work(id)
	if err != nil {
		return err
	}
	return w.following()
}

// following lists what follows the exam: open, done, or locked and why.
func (w *work) following() error {
	for _, l := range w.Deps.Following(w.at.Judged, w.Deps.Settings, w.Deps.Now()) {
		w.line("%s", Line(l))
	}
	return w.failed
}

// Line is one thing that follows the exam as a line of text.
func Line(l after.Task) string {
	text := fmt.Sprintf("%s: %s: %s", l.State, l.Kind, l.Text)
	if l.Why != "" {
		text += ". " + notation.Capital(strings.TrimSuffix(l.Why, "."))
	}
	if l.Urgent {
		text = "first: " + text
	}
	return text + "."
}
