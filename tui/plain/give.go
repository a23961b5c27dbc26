package plain

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
	"loosebox/tui/needle"
)

// give asks how much went in; the gate is asked before.
func (w *work) give(i exam.Injection, a exam.Attempt) error {
	if _, err := w.stand.Covering(i.Order, i.Number, w.Deps.Now()); err != nil {
		if a.Place.Site != "" {
			w.line("The needle comes out and nothing is given.")
			if stopErr := w.inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: "locked before it was given: " + err.Error()}); stopErr != nil {
				return stopErr
			}
		}
		return err
	}
	if i.Order.Route == exam.RouteIV && w.vein <= needle.AfterDrip {
		q := procedure.VeinQuestions()[needle.AfterDrip]
		n, err := w.letter(q.Asks, seenLetters(needle.InVein(needle.AfterDrip)))
		if err != nil {
			return err
		}
		if n == 1 {
			return w.beside(i, q.Otherwise)
		}
		w.vein = needle.AfterDrip + 1
	}
	text, err := w.ask("Give %s mL of %s, %s, %s. Type g when it is given as ordered, g and the mL where it was another amount, o where something else went in, or x and why it was stopped.",
		volume.Plain(i.Order.VolumeML), exam.CleanLine(i.Order.Product, 60), i.Order.Route, i.Order.Dose)
	if err != nil {
		return err
	}
	word, rest, _ := strings.Cut(text, " ")
	switch strings.ToLower(word) {
	case "g", "given":
		return w.given(i, rest)
	case "o", "other":
		return w.other(i, false)
	case "x", "stop":
		return w.stop(i, rest)
	}
	w.line("Nothing is written down: type g for given, o for something else, or x and why it was stopped.")
	return nil
}

func (w *work) given(i exam.Injection, text string) error {
	ml := i.Order.VolumeML
	if strings.TrimSpace(text) != "" {
		var err error
		if ml, err = needle.ML(text); err != nil {
			w.line("Not taken: %s.", strings.TrimSuffix(err.Error(), "."))
			return nil
		}
	}
	l := exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml}
	if i.Order.Route.Needled() {
		text, err := w.ask("Where did the needle go? Enter alone: %s. Not capped again.", needle.SharpsBox)
		if err != nil {
			return err
		}
		if l.Disposal = text; text == "" {
			l.Disposal = needle.SharpsBox
		}
	}
	return w.write(needle.Given(w.Deps, exam.Entry{}, l)...)
}

func (w *work) stop(i exam.Injection, why string) error {
	reasons := append(needle.WhyStopped(), needle.Reason{Press: needle.Else, Words: "something else went in"})
	why, err := w.because("Stopped. Why?", strings.TrimSpace(why), reasons)
	if err != nil {
		return err
	}
	if why == reasons[len(reasons)-1].Words {
		return w.other(i, true)
	}
	ml, known, err := w.amount("How many mL went in? 0 for nothing, or: "+needle.NotKnown+".", "")
	if err != nil {
		return err
	}
	return w.inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why, VolumeML: ml, NotKnown: !known})
}

// because is the reason that was typed behind a word: a letter of the list, or
// words; it is asked where there is none.
func (w *work) because(question, typed string, reasons []needle.Reason) (string, error) {
	for _, r := range reasons {
		if strings.EqualFold(typed, r.Press) {
			return r.Words, nil
		}
	}
	if len([]rune(typed)) > 1 && !isCommand(typed) {
		return typed, nil
	}
	return w.reason(question, reasons)
}

// beside stops because no blood comes back.
func (w *work) beside(i exam.Injection, then string) error {
	w.line("%s", then)
	ml, known, err := w.amount("How many mL went in? 0 for nothing, or: "+needle.NotKnown+".", "")
	if err != nil {
		return err
	}
	d, _ := procedure.FindDanger(procedure.Beside)
	return w.inject(procedure.Stopped(i.Number, d, "no blood comes back", ml, known))
}

// resume asks what happened to a needle that went in before this session.
func (w *work) resume(i exam.Injection, a exam.Attempt) error {
	n, err := w.letter(fmt.Sprintf("The needle of %s went in at %s, %s. What happened?", exam.CleanLine(i.Order.Product, 40), a.At.Format("2006-01-02 15:04"), a.Place), []lettered{
		{"g", "it was given"},
		{"k", "it was given, how much is not known"},
		{"e", "something else went in"},
		{"o", "the needle came out, nothing was given"},
		{"n", "nothing was given, and it is stopped"},
		{"u", "nobody knows whether anything went in"},
		{"i", "the needle is in now, nothing was given yet"},
	})
	if err != nil {
		return err
	}
	l := exam.InjectionLine{Number: i.Number, Afterwards: true}
	switch n {
	case 0:
		ml, known, err := w.amount("How many mL went in? Or: "+needle.NotKnown+".", "")
		if err != nil {
			return err
		}
		l.Phase, l.VolumeML, l.NotKnown = exam.InjectionGiven, ml, !known
		return w.write(needle.Given(w.Deps, exam.Entry{}, l)...)
	case 1:
		l.Phase, l.NotKnown = exam.InjectionGiven, true
		return w.write(needle.Given(w.Deps, exam.Entry{}, l)...)
	case 2:
		return w.other(i, true)
	case 3:
		l.Phase = exam.InjectionNotFound
	case 4:
		l.Phase, l.Why = exam.InjectionStopped, "interrupted: needle out, nothing given"
	case 5:
		l.Phase, l.Why, l.NotKnown = exam.InjectionStopped, "interrupted: nobody can say whether anything went in", true
	default:
		w.lately, w.vein, w.by = a.Seq, 0, i.By
		if a.Seen != "" {
			w.vein = needle.AfterDrip
		}
		return nil
	}
	return w.inject(l)
}
