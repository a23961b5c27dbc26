package script_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/screentest"
)

// starts are the moments from which every script is walked.
func starts() []start {
	oral := exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product M", Route: exam.RouteMouth, Dose: "1 dose"}
	differs := exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product D", Route: exam.RouteIM, Dose: "2 mL"}
	vein := exam.CoveredProcedure{Kind: exam.Injecting, Product: "Product C", Route: exam.RouteIV, Dose: "1 mL"}
	draw := exam.CoveredProcedure{Kind: exam.Drawing}
	inject := func(w *walk, lines ...exam.InjectionLine) {
		for _, l := range lines {
			l.Number = 1
			w.add(exam.Entry{Kind: exam.EntryInjection, Injection: &l})
		}
	}
	ready := exam.InjectionLine{Phase: exam.InjectionReady, Order: screentest.Ordered()}
	in := exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: procedure.Neck, Side: exam.Left}}
	blood := func(w *walk) {
		for _, l := range []exam.DrawLine{
			{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "x", Tubes: []exam.Tube{{Kind: "serum", ML: 10}}}},
			{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: procedure.Jugular, Side: exam.Left}},
		} {
			w.add(exam.Entry{Kind: exam.EntryDraw, Draw: &l})
		}
	}
	given := func(w *walk) {
		inject(w, ready, in, exam.InjectionLine{Phase: exam.InjectionClear}, exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1})
	}
	running := func(ago time.Duration) func(*walk) {
		return func(w *walk) {
			given(w)
			w.add(exam.Entry{Kind: exam.EntryWatch, At: w.now.Add(-ago), Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
		}
	}
	shut := func(w *walk) { // and decided once more, half an hour later
		w.add(exam.Entry{Kind: exam.EntryClosed})
		w.now = w.now.Add(30 * time.Minute)
		_, err := w.desk.Write(exam.Entry{Visit: w.id, Kind: exam.EntryDecision, By: "Ann Bell", At: w.now, Reason: "rang back", Decision: &exam.Decision{
			Words: "Vaccinate and take blood after all.", Vet: "Dr. R. Sommer", How: exam.ByTelephone, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{screentest.Tetanus(), draw},
		}})
		require.NoError(w.t, err)
	}
	one := []exam.CoveredProcedure{screentest.Tetanus()}
	return []start{
		{name: "nothing is decided", kind: script.Injection},
		{name: "into a muscle", kind: script.Injection, covers: one},
		{name: "into a muscle, where the practice watches", kind: script.Injection, covers: one, minutes: 20},
		{name: "into a vein", kind: script.Injection, covers: []exam.CoveredProcedure{vein}},
		{name: "by mouth", kind: script.Injection, covers: []exam.CoveredProcedure{oral}},
		{name: "another volume than decided", kind: script.Injection, covers: []exam.CoveredProcedure{differs}},
		{name: "two products", kind: script.Injection, covers: []exam.CoveredProcedure{screentest.Tetanus(), differs}},
		{name: "an order that was begun", kind: script.Injection, covers: one, given: func(w *walk) { inject(w, ready) }},
		{name: "a needle that was in", kind: script.Injection, covers: one, given: func(w *walk) { inject(w, ready, in) }},
		{name: "a needle that was in, and clear", kind: script.Injection, covers: one, given: func(w *walk) {
			inject(w, ready, in, exam.InjectionLine{Phase: exam.InjectionClear})
		}},
		{name: "a needle of a draw is in", kind: script.Injection, covers: []exam.CoveredProcedure{draw}, given: blood},
		{name: "closed, decided before", kind: script.Injection, covers: one, given: func(w *walk) { w.add(exam.Entry{Kind: exam.EntryClosed}) }},
		{name: "closed, decided after it", kind: script.Injection, covers: one, given: shut, minutes: 20},
		{name: "closed, blood decided after it", kind: script.BloodDraw, given: shut},
		{name: "opened on another laptop", kind: script.Injection, covers: one, elsewhere: true},
		{name: "blood, opened on another laptop", kind: script.BloodDraw, covers: []exam.CoveredProcedure{draw}, elsewhere: true},
		{name: "by the veterinarian", kind: script.Injection, number: script.ByVet},
		{name: "blood, nothing decided", kind: script.BloodDraw},
		{name: "blood", kind: script.BloodDraw, covers: []exam.CoveredProcedure{draw}},
		{name: "blood, checked before", kind: script.BloodDraw, covers: []exam.CoveredProcedure{draw}, given: func(w *walk) {
			w.add(exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "x", Tubes: []exam.Tube{{Kind: "serum", ML: 10}}}}})
		}},
		{name: "blood, a needle that was in", kind: script.BloodDraw, covers: []exam.CoveredProcedure{draw}, given: blood},
		{name: "no watch", kind: script.Watch},
		{name: "a watch to do", kind: script.Watch, covers: one, given: given, minutes: 20},
		{name: "an observation that runs", kind: script.Watch, covers: one, given: running(5 * time.Minute)},
		{name: "an observation that is over", kind: script.Watch, covers: one, given: running(20 * time.Minute)},
		{name: "an observation that began later than the clock", kind: script.Watch, covers: one, given: running(-time.Hour)},
		{name: "danger, the needle in", kind: script.Danger, number: 1, from: script.Injection, covers: one, given: func(w *walk) { inject(w, ready, in) }},
		{name: "danger in a draw", kind: script.Danger, number: 1, from: script.BloodDraw, covers: []exam.CoveredProcedure{draw}, given: blood},
		{name: "danger in a watch", kind: script.Danger, number: 1, from: script.Watch, covers: one, given: running(time.Minute)},
		{name: "danger without a procedure", kind: script.Danger},
		{name: "for the record", kind: script.Record, covers: one, given: given},
	}
}

// The whole of every state machine: each question that can be reached, each answer to
// it, what is stored and what is asked next. The table is read by a person before it
// is written again with LOOSEBOX_UPDATE=1.
func TestEveryQuestionAndAnswer(t *testing.T) {
	var b strings.Builder
	walked := map[script.Name]bool{}
	before := map[string]bool{} // what stands in the table already
	for _, s := range starts() {
		walked[s.kind] = true
		fmt.Fprintf(&b, "# %s: %s\n", s.kind, s.name)
		for _, r := range walks(t, s) {
			text := fmt.Sprintf("%s | %s | %s\n", r.at, r.answer, strings.TrimSpace(r.wrote+" -> "+r.to))
			if !before[text] {
				b.WriteString(text)
			}
			before[text] = true
		}
	}
	for _, k := range script.Kinds() {
		assert.True(t, walked[k.Name], "%s is walked from no start: add one to starts", k.Name)
	}
	path := filepath.Join("testdata", "states.txt")
	if os.Getenv("LOOSEBOX_UPDATE") != "" {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}

// While a needle is in, no letter of a question is taken by the question after it, so
// that a key that is pressed twice answers once; and none is a key that works on every
// screen of a needle.
func TestNoLetterGoesThroughTwoQuestions(t *testing.T) {
	var elsewhere []string
	for _, b := range []keys.Binding{keys.Cautions(), keys.Source(), keys.Help(), keys.Accept(), keys.Up(), keys.Down()} {
		elsewhere = append(elsewhere, b.Keys...)
	}
	for _, s := range starts() {
		for _, r := range walks(t, s) {
			for _, k := range r.letters {
				assert.NotContains(t, elsewhere, k, "%s: %s", s.name, r.at)
			}
			if key, _, _ := strings.Cut(r.answer, " "); r.in && slices.Contains(r.letters, key) {
				assert.NotContains(t, r.next, key, "%s: %s, %s", s.name, r.at, r.answer)
			}
		}
	}
	for _, d := range procedure.Dangers() {
		var of []string
		for i := range d.Seen {
			of = append(of, script.SeenLetter(i))
		}
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(of))), len(d.Seen), "%s: each line has its own letter", d.Key)
	}
}

// A needle that stayed in while the program was not there may have moved: what was seen before is
// looked at again, into a muscle as into a vein.
func TestANeedleThatStayedInIsLookedAtAgain(t *testing.T) {
	for _, s := range starts() {
		if s.name != "a needle that was in, and clear" {
			continue
		}
		var to []string
		for _, r := range walks(t, s) {
			if r.at == "injection resume" && strings.HasPrefix(r.answer, "i ") {
				to = append(to, r.to)
			}
		}
		assert.Equal(t, []string{"injection aspirate"}, to)
	}
}

// A needle came out, blood or none in it, and the program was started again: before the new needle horse and product, or tubes,
// are looked at again, as before the first one.
func TestBeforeANewNeedleIsLookedAgain(t *testing.T) {
	vein := exam.CoveredProcedure{Kind: exam.Injecting, Product: screentest.Ordered().Product, Route: exam.RouteIM, Dose: "1 dose"}
	at := exam.NeedlePlace{Site: procedure.Neck, Side: exam.Left}
	for kind, lines := range map[script.Name][]exam.Entry{
		script.Injection: {
			{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: screentest.Ordered()}},
			{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: at}},
			{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionBlood}},
		},
		script.BloodDraw: {
			{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "x", Tubes: []exam.Tube{{Kind: exam.TubeSerum, ML: 10}}}}},
			{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: procedure.Jugular, Side: exam.Left}}},
			{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawMissed}},
		},
	} {
		w := begin(t, start{kind: kind, number: 1, covers: []exam.CoveredProcedure{vein, {Kind: exam.Drawing}}, given: func(w *walk) {
			for _, e := range lines {
				w.add(e)
			}
		}})
		require.Contains(t, []string{"injection checked before", "draw checked before"}, w.q.ID)
		_, do := w.answers()
		for name, answer := range do {
			if strings.HasPrefix(name, "a looked again") {
				w.move(answer())
			}
		}
		assert.NotNil(t, w.q.Places, "%s: then the place", w.q.ID)
	}
}

// Where nothing is decided nothing but what was given by the veterinarian's word can
// be written down.
func TestALockedScriptStoresNothing(t *testing.T) {
	for _, kind := range []script.Name{script.Injection, script.BloodDraw} {
		w := begin(t, start{kind: kind})
		assert.True(t, w.q.Locked)
		require.ErrorIs(t, w.q.Ends, exam.ErrRefused)
		for _, r := range walks(t, start{kind: kind}) {
			assert.Empty(t, r.wrote, r.at)
		}
	}
}

// An injection that was given begins the watch of the practice's minutes.
func TestGivenBeginsTheWatchOfThePractice(t *testing.T) {
	one := []exam.CoveredProcedure{screentest.Tetanus()}
	for minutes, want := range map[int]int{0: 0, 30: 1} {
		s := start{kind: script.Injection, covers: one, minutes: minutes}
		w := follow(t, s, []string{"[to the check list]", "[every point in order]", "[the first place]", "[i: the needle is in]", "c clear: no blood"})
		_, do := w.answers()
		w.move(do["g given: 1 mL, as ordered; the needle is in the sharps box"]())
		watching := w.at.Visit.Watching()
		require.Len(t, watching, want, "%d minutes", minutes)
		if want > 0 {
			assert.Equal(t, minutes, watching[0].Minutes)
		}
	}
}

// Two laptops examine one horse, each in its own visit: before a needle goes in, the form of
// the order says who else may have given something.
func TestAColleaguesOpenExamIsSaidBeforeTheNeedle(t *testing.T) {
	w := begin(t, start{kind: script.Injection, covers: []exam.CoveredProcedure{screentest.Tetanus()}})
	said := func() string {
		text := ""
		for _, l := range w.q.Head {
			text += l.Words + "\n"
		}
		return text
	}
	assert.NotContains(t, said(), "Another exam")
	own, err := w.desk.Store.Visit(w.id)
	require.NoError(t, err)
	other, err := w.desk.Begin(exam.Opening{Horse: own.Horse, Routine: own.Routine}, exam.Context{}, "Eva Holm", w.now)
	require.NoError(t, err)
	w.desk.Store = onTruck{w.desk.Store, other.Visit.ID}
	w.at.Stand, err = order.Look(w.desk, w.id)
	require.NoError(t, err)
	w.run = script.KindOf(script.Injection).Make(w.at, 0, "")
	w.move(script.Move{})
	assert.Equal(t, "injection order", w.q.ID)
	assert.Contains(t, said(), "Another exam of this horse is open: Eva Holm on truck, 2 Mar 11:05, not finished. Ask there what was given.")
}

// onTruck is a store in which one visit is on another laptop.
type onTruck struct {
	exam.Store
	id exam.VisitID
}

func (s onTruck) Visit(id exam.VisitID) (exam.Visit, error) {
	v, err := s.Store.Visit(id)
	if id == s.id {
		v.Elsewhere, v.Laptops = true, []exam.OnLaptop{{Laptop: "truck", Named: true, Holds: true}}
	}
	return v, err
}
