// Package settle lists for people what two laptops wrote without knowing of each other,
// and writes that somebody looked at it.
package settle

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Matter is one thing that somebody must look at and settle.
type Matter struct {
	Kind  exam.UnsettledKind `json:"kind"`
	Visit exam.VisitID       `json:"visit,omitempty"` // empty for a horse
	Horse exam.HorseID       `json:"horse"`
	Other exam.HorseID       `json:"other,omitempty"` // the horse that may be the same
	Name  string             `json:"name"`            // of the horse
	At    time.Time          `json:"at,omitzero"`     // the visit was opened; of a horse: the last of its values
	Step  exam.StepID        `json:"step,omitempty"`
	Site  exam.Site          `json:"site,omitempty"`
	Field string             `json:"field,omitempty"` // of a horse
	// Visits are the exams that are or were open at once; Visit is the newest.
	Visits []exam.VisitID `json:"visits,omitempty"`
	Seqs   []int          `json:"entries"` // lines of the visit, or revisions of the horse
	Text   string         `json:"text"`    // what stands, in words
	// Setting is of the practice; its Values are in the order of the record, the last in use.
	Setting exam.SettingKey `json:"setting,omitempty"`
	Values  []string        `json:"values,omitempty"` // for a person
}

// List reads what is to be settled in a store: visits newest first, then horses of which two
// laptops have an exam open, then horses by name, then horses that may be one, then those that
// were joined and parted at once, then settings of the practice.
func List(store exam.Store, steps *exam.Steps, now time.Time) ([]Matter, error) {
	visits, err := store.Unsettled()
	if err != nil {
		return nil, err
	}
	horses, err := store.Horses()
	if err != nil {
		return nil, err
	}
	var out []Matter
	for _, v := range visits {
		out = append(out, OfVisit(v, steps, now)...)
	}
	open, err := store.Unfinished()
	if err != nil {
		return nil, err
	}
	out = append(out, AtOnce(Both(open, visits), now)...)
	for _, f := range horses {
		out = append(out, OfHorse(f.Horse)...)
	}
	said, err := store.Joinings()
	if err != nil {
		return nil, err
	}
	out = append(out, ofDoubles(Doubles(horses, said))...)
	out = append(out, OfDisputes(horses, said, now)...)
	states, err := store.PracticeSettings()
	return append(out, OfPractice(states)...), err
}

// Both are the visits of two lists, newest first, each once.
func Both(one, other []exam.Visit) []exam.Visit {
	all := slices.Concat(one, other)
	slices.SortStableFunc(all, func(a, b exam.Visit) int {
		return cmp.Or(b.OpenedAt.Compare(a.OpenedAt), cmp.Compare(b.ID, a.ID))
	})
	return slices.CompactFunc(all, func(a, b exam.Visit) bool { return a.ID == b.ID })
}

// OfPractice lists what is to be settled of the practice's settings.
func OfPractice(states []exam.SettingState) []Matter {
	var out []Matter
	for _, s := range states {
		if !s.Differ() {
			continue
		}
		i := Matter{Kind: exam.UnsettledSetting, Name: s.Key.Called(), Setting: s.Key, At: s.InUse().At, Seqs: []int{}}
		var said []string
		for _, v := range Choices(s) {
			i.Values = append(i.Values, v.Shown())
			said = append(said, fmt.Sprintf("%s, %s", v.Shown(), v.Who()))
		}
		i.Text = notation.CleanNote(fmt.Sprintf("%s. In use until somebody chooses: %s.", strings.Join(said, "; or "), s.InUse().Shown()))
		out = append(out, i)
	}
	return out
}

// Choices are the different values of a setting, each by the last line that says it, in the
// order of the record: the last is in use.
func Choices(s exam.SettingState) []exam.Setting {
	var out []exam.Setting
	for _, l := range s.Said {
		out = append(slices.DeleteFunc(out, func(o exam.Setting) bool { return string(o.Value) == string(l.Value) }), l)
	}
	return out
}

// OfVisit lists what is to be settled in a visit.
func OfVisit(v exam.Visit, steps *exam.Steps, now time.Time) []Matter {
	var out []Matter
	for _, u := range v.Unsettled() {
		out = append(out, Matter{
			Kind: u.Kind, Visit: v.ID, Horse: v.Horse.ID, Name: v.Horse.Name, At: v.OpenedAt, Step: u.Step, Site: u.Site, Seqs: u.Seqs,
			Text: notation.CleanNote(inWords(v, u, steps, now)),
		})
	}
	return out
}

// OfHorse lists what is to be settled of a horse.
func OfHorse(h exam.Horse) []Matter {
	var out []Matter
	for _, d := range h.Differ {
		i := Matter{Kind: exam.UnsettledHorse, Horse: h.ID, Name: h.Name, Field: d.Field}
		var said []string
		for _, s := range d.Said {
			said = append(said, fmt.Sprintf("%s by %s", OrNothing(s.Text), s.By))
			i.Seqs, i.At = append(i.Seqs, s.Seq), s.At
		}
		i.Text = notation.CleanNote(d.Name() + ": " + strings.Join(said, ", or ") + ". The last one stands.")
		out = append(out, i)
	}
	return out
}

// OrNothing is a value of a horse for a person; one that was cleared is nothing.
func OrNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

func inWords(v exam.Visit, u exam.Unsettled, steps *exam.Steps, now time.Time) string {
	switch u.Kind {
	case exam.UnsettledAnswers:
		return answers(v, u, steps)
	case exam.UnsettledNeedles:
		return unaware(v, u.Seqs)
	case exam.UnsettledMissed:
		return missed(v, u, now)
	case exam.UnsettledDecision:
		return decision(v, u, now)
	case exam.UnsettledClosing:
		return fmt.Sprintf("The visit was closed by somebody who did not have %s. They stay.", notation.Counted(len(u.Seqs)-1, "line"))
	case exam.UnsettledHorse, exam.UnsettledDouble, exam.UnsettledParted, exam.UnsettledSetting, exam.UnsettledAtOnce, exam.UnsettledCompare: // of no visit alone
	}
	return u.Kind.String()
}

func answers(v exam.Visit, u exam.Unsettled, steps *exam.Steps) string {
	f, _ := v.Finding(exam.Key{Step: u.Step, Site: u.Site})
	step, ok := steps.ByID(u.Step)
	if !ok {
		step.Name = string(u.Step)
	}
	where := step.Name
	if u.Site != "" {
		where += ", " + u.Site.String()
	}
	return where + ": " + f.SaidBy(step) + ". The worst counts."
}

// Looked is a note that says of what is to be settled in a visit, answers apart, that
// somebody looked at it; false where there is nothing of the kind. Answers are settled by
// another answer, a decision also by a new one.
func Looked(v exam.Visit, by, words string, at time.Time) (exam.Entry, bool) {
	e := exam.Entry{Visit: v.ID, Kind: exam.EntryNote, At: at, By: by, Note: words, Reason: words}
	for _, u := range v.Unsettled() {
		if u.Kind == exam.UnsettledAnswers {
			continue
		}
		for _, seq := range u.Seqs {
			if !slices.Contains(e.Settles, seq) {
				e.Settles = append(e.Settles, seq)
			}
		}
	}
	slices.Sort(e.Settles)
	return e, len(e.Settles) > 0
}
