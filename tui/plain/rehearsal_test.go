package plain_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
	"loosebox/tui/plain"
	screen "loosebox/tui/screen/rehearse"
	"loosebox/tui/screentest"
)

// lines is a rehearsal typed line by line.
type lines struct {
	deps    *nav.Deps
	horse   *rehearse.Horse
	visit   exam.Visit
	routine exam.Routine
	text    []string
	notes   exam.Visit // the moments answered so far
	now     float64    // s, what the listening let pass
}

func rehearsal(t *testing.T, name, routine string, seed uint64, modes rehearse.Modes) *lines {
	t.Helper()
	l := &lines{}
	l.deps, _ = screentest.Deps(t)
	cases, _ := l.deps.RehearsalCases()
	c, ok := rehearse.CaseNamed(cases, name)
	require.True(t, ok)
	var err error
	l.horse, l.visit, err = screen.Begin(l.deps, screen.Beginning{Case: c, Seed: seed, Routine: routine, By: "Ann Bell", Modes: modes})
	require.NoError(t, err)
	for _, r := range l.deps.Routines {
		if r.Name == routine {
			l.routine = r
		}
	}
	states := []string{}
	for _, s := range l.horse.Context.States {
		states = append(states, string(s))
	}
	l.add(strings.Join(states, ", "))
	return l
}

func (l *lines) add(text ...string) { l.text = append(l.text, text...) }

// moments answers what is asked on coming to a place; unsafe names one moment at
// which the choice is not the safe one.
func (l *lines) moments(k exam.Key, unsafe string) {
	for {
		m, ok := l.horse.MomentAt(k, l.notes)
		if !ok {
			return
		}
		i := slices.IndexFunc(m.Options, func(o rehearse.Option) bool { return o.Safe == (m.Place != unsafe) })
		l.add(fmt.Sprint(i + 1))
		e := m.Entry(k.Site, m.Options[i])
		l.notes.Notes = append(l.notes.Notes, exam.VisitNote{Text: e.Note, Step: e.Step, Site: e.Site})
	}
}

// count listens for a minute and types the times of the beats, or what was
// counted by ear.
func (l *lines) count(step exam.Step, factor float64, byEar bool) {
	events := l.horse.Beats
	if step.Heard == "breath" {
		events, factor = l.horse.Breaths, 1
	}
	from := l.now
	l.now += 64
	at := events(from, from+64)
	if byEar {
		l.now -= 4
		at = events(from, from+60)
		l.add("count 60", fmt.Sprint(len(at)))
		return
	}
	times := make([]string, len(at))
	for i, b := range at {
		times[i] = fmt.Sprintf("%.2f", (b-from)/factor)
	}
	l.add("listen 64", "taps "+strings.Join(times, " "))
}

// sense listens for as long as a place takes; a look or a touch takes its time by itself.
func (l *lines) sense(step exam.Step, k exam.Key, v exam.Value) {
	switch {
	case step.Listen == exam.ListenNone:
		l.now += l.horse.NeedOf(k, exam.Value{}).Seconds
	case step.Kind != exam.KindCount:
		need := math.Ceil(l.horse.NeedOf(k, v).Seconds)
		l.add(fmt.Sprintf("listen %.0f", need))
		l.now += need
	}
}

// answers types the truth at every place but for one step.
func (l *lines) answers(factor float64, byEar bool, unsafe string, wrong map[exam.StepID]string, skip exam.StepID) {
	for _, ask := range l.routine.For(l.horse.Class, l.deps.Steps).Asks {
		for _, k := range ask.Keys() {
			step, _ := l.deps.Steps.ByID(k.Step)
			l.moments(k, unsafe)
			v, ok := l.horse.Truth(k)
			l.sense(step, k, v)
			switch {
			case k.Step == skip:
				l.add("later")
			case wrong[k.Step] != "":
				l.add(wrong[k.Step])
			case !ok:
				l.add("nothing more")
			case step.Kind == exam.KindCount:
				l.count(step, factor, byEar)
			case v.Number != nil:
				l.add(strings.NewReplacer("/min", "", "points", "").Replace(notation.FormatNumber(v.Number.Value, 2) + string(v.Number.Unit)))
			default:
				l.add(strings.Join(v.Words, ", "))
			}
		}
	}
}

func (l *lines) run(t *testing.T) (string, rehearse.Marks, error) {
	t.Helper()
	var b strings.Builder
	s := &plain.Session{
		Deps: screen.Within(l.deps, l.horse, l.visit), In: strings.NewReader(strings.Join(l.text, "\n") + "\n"), Out: &b, Person: "Ann Bell",
		Echo: true, Horse: l.horse,
	}
	err := s.Rehearse(l.visit.ID)
	entries, readErr := l.deps.Rehearsals.Entries(l.visit.ID)
	require.NoError(t, readErr)
	m, markErr := rehearse.Mark(l.horse, l.routine, entries, l.deps.Judge)
	require.NoError(t, markErr)
	return b.String(), m, err
}

func faults(m rehearse.Marks) []string {
	out := []string{}
	for _, f := range m.Faults() {
		out = append(out, strings.TrimSpace(fmt.Sprintf("%s: %s %s", f.Kind, f.Step, f.Site)))
	}
	return out
}

func TestARehearsalLineByLineWithoutAFault(t *testing.T) {
	for _, byEar := range []bool{false, true} {
		l := rehearsal(t, "tarn", "colic-check", 5, rehearse.Modes{Timed: true})
		l.answers(1, byEar, "", nil, "")
		l.add("hand off Dr. Olga Sommer", "finish")
		out, m, err := l.run(t)
		require.NoError(t, err, out)
		assert.Empty(t, faults(m), "%s\n%s", out, rehearse.Text(m, 90))
		assert.Contains(t, out, nav.RehearsalSign)
		assert.Contains(t, out, "Rehearsal, 1 of")
		assert.NotContains(t, out, "rehearsal: clock", "its own notes are not the trainee's")
		for _, c := range m.Counts {
			assert.NotContains(t, c.Basis, "whole rehearsal", "the count says when it began")
		}
	}
}

func TestARehearsalLineByLineWithJustTheFaultsMade(t *testing.T) {
	l := rehearsal(t, "clover", "before-vaccination", 7, rehearse.Modes{})
	l.answers(1.05, false, "tail", map[exam.StepID]string{"gum.colour": "pale"}, "breath.effort")
	l.add("finish no time")
	out, m, err := l.run(t)
	require.NoError(t, err, out)
	assert.Contains(t, out, "NOT SAFE. A hand that goes in")
	want := []string{"safety: temp.rectal", "count: heart.rate", "finding: gum.colour", "step missed: breath.effort"}
	assert.ElementsMatch(t, want, faults(m), out)
}

// A blind rehearsal asks what comes next, and the marks see the order.
func TestABlindRehearsalAsksWhatComesNext(t *testing.T) {
	l := rehearsal(t, "clover", "tpr-recheck", 7, rehearse.Modes{Blind: true})
	l.add("how to", "temp")
	l.moments(exam.Key{Step: "temp.rectal"}, "")
	temp, _ := l.horse.Truth(exam.Key{Step: "temp.rectal"})
	l.add(temp.Number.Text(1), "demeanour", "how", "bright", "approach")
	l.moments(exam.Key{Step: "approach"}, "")
	l.add("1", "finish", "finish no time")
	out, m, err := l.run(t)
	require.NoError(t, err, out)
	assert.Contains(t, out, `No step of this routine is called "how to"`)
	assert.Contains(t, out, "does not say how")
	assert.NotContains(t, out, "1 of 8", "nothing tells the order")
	assert.Equal(t, 3, m.Order.Answered)
	assert.Len(t, m.Order.OutOfOrder, 2, "turned round")
	assert.Len(t, m.Missed, 4)
}

func TestWhatIsNoCountIsSaidAndNothingIsLost(t *testing.T) {
	l := rehearsal(t, "juniper", "tpr-recheck", 3, rehearse.Modes{})
	l.moments(exam.Key{Step: "approach"}, "")
	l.add("1", "bright", "taps 1 2 3", "listen 5000", "listen 10", "taps 3 2", "taps 1 x", "taps 4", "to heart rate")
	l.moments(exam.Key{Step: "heart.rate"}, "")
	l.add("listen 40", "taps 0 1 2 3 4 5 6 8 9 10 11 12 13", "perhaps", "taps 0 1 2 3 4 5 6 8 9 10 11 12 13", "paused", "quit")
	out, _, err := l.run(t)
	require.ErrorIs(t, err, plain.ErrLeft)
	for _, text := range []string{
		"Type listen first", "1 to 300 seconds", "the times do not rise", `"x" is no time`, "two taps at least", "type missed (60.0 /min) or paused (55.4 /min)",
		"not settled", "Saved: 55.4 /min",
	} {
		assert.Contains(t, out, text)
	}
}
