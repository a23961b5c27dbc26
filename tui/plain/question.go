package plain

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
)

// question is the step as one line: number, name, site, how it is answered,
// what is usual, what there was last time.
func (s *Session) question(i int) string {
	k, step := s.keys[i], s.step(i)
	var b strings.Builder
	fmt.Fprintf(&b, "%s%s", s.number(i), step.Name)
	if k.Site != exam.NoSite {
		fmt.Fprintf(&b, ", %s", k.Site)
	}
	fmt.Fprintf(&b, "? %s.", form(step))
	if text, ok := s.Deps.Judge.Range(s.visit.Class(), step, s.prefer(step)); ok {
		fmt.Fprintf(&b, " %s (%s).", notation.Capital(text.Line), text.Evidence)
	} else if text.Why != "" {
		fmt.Fprintf(&b, " %s", text.Why)
	}
	if f, ok := s.visit.Finding(k); ok {
		if f.Done() {
			fmt.Fprintf(&b, " Now: %s.", s.shown(step, f.Value))
		} else {
			fmt.Fprintf(&b, " Now: not done, %s.", f.NotDone)
		}
	}
	if text := score.SoFar(s.visit, k.Step); text != "" {
		fmt.Fprintf(&b, " %s.", notation.Capital(text))
	}
	if step.Caution != "" {
		fmt.Fprintf(&b, " Caution: %s", step.Caution)
	}
	return b.String()
}

// step is the step asked at a place, with the choices that can be of the horse.
func (s *Session) step(i int) exam.Step {
	step, _ := s.Deps.Steps.ByID(s.keys[i].Step)
	f, _ := s.visit.Finding(s.keys[i])
	return step.For(s.visit.Horse, f.Value)
}

// number says how far the exam is.
func (s *Session) number(i int) string {
	switch {
	case s.Horse == nil:
		return fmt.Sprintf("%d of %d. ", i+1, len(s.keys))
	case s.blind():
		return "Rehearsal" + s.clock() + ". "
	}
	return fmt.Sprintf("Rehearsal, %d of %d%s. ", i+1, len(s.keys), s.clock())
}

// shown is a value in the units of the person.
func (s *Session) shown(step exam.Step, v exam.Value) string {
	return v.As(s.Deps.Settings.Units, step).Show(step)
}

func (s *Session) prefer(step exam.Step) notation.Unit {
	return step.Prefer(s.Deps.Settings.Units)
}

// form says how a step is answered: at once, and by its parts where it has any.
func form(step exam.Step) string {
	text := whole(step)
	if list := step.Parts.List; len(list) > 0 {
		words := make([]string, len(list))
		for i, p := range list {
			words[i] = p.Words
		}
		score := step.Parts.Range()
		if step.Parts.Says != "" {
			score += " (" + step.Parts.Says + ")"
		}
		text += fmt.Sprintf(". Or all %d %ss in this order, each %s, a hyphen for one not seen: %s",
			len(list), step.Parts.Noun, score, strings.Join(words, ", "))
	}
	return text
}

func whole(step exam.Step) string {
	switch step.Kind {
	case exam.KindCount:
		return "A rate a minute, or what was counted: 11 in 15"
	case exam.KindWeight:
		return weighWords
	case exam.KindNumber:
		units := make([]string, len(step.Units))
		for i, u := range step.Units {
			units[i] = string(u)
		}
		if step.Unit == notation.Points {
			return fmt.Sprintf("A number from %s to %s", notation.FormatNumber(step.Possible.Low, 0), notation.FormatNumber(step.Possible.High, 0))
		}
		return "A number in " + strings.Join(units, " or ")
	case exam.KindTime:
		return "One to three times in seconds"
	case exam.KindPick, exam.KindMarks, exam.KindScale:
		words := make([]string, len(step.Choices))
		for i, c := range step.Choices {
			if step.Kind == exam.KindScale {
				words[i] = notation.FormatNumber(c.Score, 1) + " " + c.Words
			} else {
				words[i] = fmt.Sprintf("%d %s", i+1, c.Words)
			}
		}
		lead := "One of"
		if step.Kind == exam.KindMarks {
			lead = "Any of, with commas"
		}
		return lead + ": " + strings.Join(words, "; ")
	case exam.KindEvent:
		return "When it was seen: a time of day (03:40) or after birth (+42 or +1:30). Or: seen, not yet"
	case exam.KindNote:
		return "Words"
	}
	return "An answer"
}
