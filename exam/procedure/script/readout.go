package script

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

// target is what a sign of danger is written to.
type target struct {
	Words string // what writing it down does
	// Asks is the question how much went in, or was drawn; empty where it is not
	// asked. DrawnML is what the tubes hold.
	Asks    string
	DrawnML float64
	// Entry is the line of the record; ml counts where it is asked and known.
	Entry func(d procedure.Danger, seen string, ml float64, known bool) exam.Entry
}

// targetOf is the running procedure that a sign is seen in; where it is over, or
// none runs, the last injection; without any the visit itself, as a note.
func targetOf(v exam.Visit, from Name, number int) target {
	reason := ""
	if v.Closed() {
		reason = string(exam.AmendSignSeen)
	}
	if d, ok := v.Draw(number); ok && from == BloodDraw && !d.Finished() {
		return target{Words: "stops the blood draw", Asks: "How much was drawn?", DrawnML: d.DrawnML(), Entry: func(x procedure.Danger, seen string, ml float64, known bool) exam.Entry {
			return exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{
				Number: d.Number, Phase: exam.DrawStopped, Sign: x.Key, SignWords: x.Title + ": " + seen, Why: exam.StopReason(x.Title), VolumeML: ml, NotKnown: !known,
			}}
		}}
	}
	i, ok := injectionFor(v, from, number)
	switch {
	case ok && from == Injection && !i.Finished():
		return target{Words: "stops the injection", Asks: "How much went in?", Entry: func(x procedure.Danger, seen string, ml float64, known bool) exam.Entry {
			l := procedure.Stopped(i.Number, x, seen, ml, known)
			return exam.Entry{Kind: exam.EntryInjection, Injection: &l}
		}}
	case ok:
		return target{Words: "saved with the observation", Entry: func(x procedure.Danger, seen string, _ float64, _ bool) exam.Entry {
			return exam.Entry{Kind: exam.EntryWatch, Reason: reason, Watch: &exam.WatchLine{
				Injection: i.Number, Phase: exam.WatchReaction, Sign: x.Key, SignWords: x.Title + ": " + seen,
			}}
		}}
	}
	return target{Words: "saved as a comment", Entry: func(x procedure.Danger, seen string, _ float64, _ bool) exam.Entry {
		return exam.Entry{Kind: exam.EntryNote, Reason: reason, Note: "Sign of danger. " + x.Title + ": " + seen}
	}}
}

// injectionFor is the injection with the number, or the last one that was given or
// stopped.
func injectionFor(v exam.Visit, from Name, number int) (exam.Injection, bool) {
	if i, ok := v.Injection(number); ok && from != BloodDraw {
		return i, true
	}
	for n := len(v.Injections) - 1; n >= 0; n-- {
		if i := v.Injections[n]; i.State == exam.InjectionGiven || i.State == exam.InjectionStopped {
			return i, true
		}
	}
	return exam.Injection{}, false
}

// readOut is what is read out to the veterinarian after a sign was written down:
// to whom, which horse, what was given when and how much, what is seen.
func readOut(s order.Stand, from Name, number int, sign string, now time.Time) []string {
	v := s.Visit
	var out []string
	for n := len(v.Decisions) - 1; n >= 0; n-- {
		if d := v.Decisions[n]; !d.Corrected && d.Vet != "" {
			out = append(out, "To "+d.Vet)
			break
		}
	}
	horse := s.Horse.Name + ", " + s.Horse.AgeWords(v.OpenedAt)
	if s.Horse.Place != "" {
		horse += ", " + s.Horse.Place
	}
	out = append(out, horse)
	if d, ok := v.Draw(number); ok && from == BloodDraw {
		out = append(out, fmt.Sprintf("blood draw, %s mL drawn", volume.Plain(d.DrawnML())))
	} else if i, ok := injectionFor(v, from, number); ok {
		out = append(out, Injected(i, now))
		if minutes, over := procedure.Minutes(i, now); over && minutes > 0 {
			out = append(out, fmt.Sprintf("%d minutes after it", minutes))
		}
	}
	return append(out, now.Format("15:04")+" "+sign)
}

// Injected is an injection in one line to read out: product, lot, amount, route,
// site, time by the clock of now.
func Injected(i exam.Injection, now time.Time) string {
	amount := notation.FormatNumber(i.GivenML, 3) + " mL given"
	if i.NotKnown {
		amount = "given amount not known"
	}
	parts := []string{i.Product(), "lot " + i.Order.Lot, amount, i.Route().String()}
	if i.GivenProduct != "" || i.Order.Lot == "" { // the lot that was read is another product's
		parts = []string{i.Product(), amount, i.Route().String()}
	}
	if n := len(i.Attempts); n > 0 {
		parts = append(parts, i.Attempts[n-1].Place.String())
	}
	if i.EndAt != nil {
		parts = append(parts, "at "+notation.Clock(*i.EndAt, now))
	}
	return strings.Join(parts, ", ")
}
