// Package dangers is the screen of the signs of danger in and after an injection
// or a draw: what is seen, what to do first, what to tell the veterinarian. It is
// one key away from the screens of a needle and of a watch, and a sign chosen there
// is written down at once.
package dangers

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/flow"
	"loosebox/tui/screen/list"
)

type screen struct {
	*flow.Screen
	to   nav.Address
	list list.List
	// chosen is the sign that is being written down, said what is seen in words, and
	// before how many entries there were.
	chosen procedure.Danger
	said   string
	before int
}

// New makes the screen over the procedure in the address. What it shows needs no
// record, so it is there before the visit is read.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	from := to
	to.Screen = nav.Dangers
	s := &screen{Screen: flow.New(deps, to), to: from}
	s.Run(s)
	s.Keep(procedure.Cautions())
	s.Start(&signs{s: s})
	return s.Screen
}

// Number is that of the procedure it was opened from.
func (s *screen) Number() int { return s.to.Number }

// Title is the same for every horse, so that it is read at a glance.
func (s *screen) Title() string { return "Signs of danger" }

// Right says where a sign would be written down.
func (s *screen) Right() string {
	if !s.Ready() {
		return ""
	}
	return s.target().words
}

// Next is the list, and what to read out once a sign is written down.
func (s *screen) Next() flow.Part {
	if s.chosen.Key != "" && s.Stand.Visit.Entries > s.before {
		return &told{s: s}
	}
	return &signs{s: s}
}

// target is what a sign of danger is written to.
type target struct {
	words string
	inj   exam.Injection
	draw  exam.Draw
	write func(d procedure.Danger, seen string, ml float64, known bool) exam.Entry
	// asks says that how much went in, or was drawn, is asked.
	asks string
}

// target is the running procedure; where it is over, or none runs, the last
// injection that was given; else the visit itself, as a note.
func (s *screen) target() target {
	v := s.Stand.Visit
	if d, ok := v.Draw(s.to.Number); ok && s.to.From == nav.Draw && !d.Finished() {
		return target{words: "stops the blood draw", draw: d, asks: "drawn, mL", write: func(x procedure.Danger, seen string, ml float64, known bool) exam.Entry {
			return exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{
				Number: d.Number, Phase: exam.DrawStopped, Sign: x.Key, SignWords: x.Title + ": " + seen, Why: x.Title, VolumeML: ml, NotKnown: !known,
			}}
		}}
	}
	i, ok := v.Injection(s.to.Number)
	if ok && s.to.From == nav.Injection && !i.Finished() {
		return target{words: "stops the injection", inj: i, asks: "went in, mL", write: func(x procedure.Danger, seen string, ml float64, known bool) exam.Entry {
			l := procedure.Stopped(i.Number, x, seen, ml, known)
			return exam.Entry{Kind: exam.EntryInjection, Injection: &l}
		}}
	}
	if !ok || s.to.From == nav.Draw {
		i, ok = lastGiven(v)
	}
	if ok {
		return target{words: "written to the watch", inj: i, write: func(x procedure.Danger, seen string, _ float64, _ bool) exam.Entry {
			return exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{
				Injection: i.Number, Phase: exam.WatchReaction, Sign: x.Key, SignWords: x.Title + ": " + seen,
			}}
		}}
	}
	return target{words: "written as a note", write: func(x procedure.Danger, seen string, _ float64, _ bool) exam.Entry {
		return exam.Entry{Kind: exam.EntryNote, Note: "Sign of danger. " + x.Title + ": " + seen}
	}}
}

func lastGiven(v exam.Visit) (exam.Injection, bool) {
	for n := len(v.Injections) - 1; n >= 0; n-- {
		if i := v.Injections[n]; i.State == exam.InjectionGiven || i.State == exam.InjectionStopped {
			return i, true
		}
	}
	return exam.Injection{}, false
}

// choose asks what is seen and writes the sign down.
func (s *screen) choose(d procedure.Danger) tea.Cmd {
	if !s.Ready() {
		s.Say("The visit is not read, so nothing can be written down. What to do first holds all the same.")
		return nil
	}
	s.Show(s.recording(d))
	return nil
}

func recordKey() keys.Binding {
	return keys.Accept().With("write it down", "say what is seen, and write it down with time, product, lot and amount")
}
