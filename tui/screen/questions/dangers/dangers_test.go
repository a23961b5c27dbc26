package dangers_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/examtest"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/questions"
	"loosebox/tui/screentest"
)

type bench struct {
	*screentest.Driver
	t     *testing.T
	deps  *nav.Deps
	store *examtest.Store
	id    exam.VisitID
}

func sit(t *testing.T) *bench {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	b := &bench{t: t, deps: deps, store: store, id: screentest.Open(t, store).ID}
	screentest.Decide(t, store, b.id, screentest.Tetanus(), exam.CoveredProcedure{Kind: exam.Drawing})
	return b
}

func (b *bench) open(from nav.Name, number int, size layout.Size) *bench {
	b.Driver = screentest.New(b.t, b.deps, questions.Of(script.Danger), nav.Address{Screen: nav.Dangers, Visit: b.id, From: from, Number: number}, size)
	return b
}

func (b *bench) visit() exam.Visit {
	b.t.Helper()
	v, err := b.store.Visit(b.id)
	require.NoError(b.t, err)
	return v
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

// Every sign is in sight at once, and what to do first of each is whole in the
// smallest window, with the veterinarian's telephone where it is set.
func TestEverySignIsReadInTheSmallestWindow(t *testing.T) {
	everySign(t, sit(t))
	b := sit(t)
	b.deps.Settings.VetPhone, b.deps.Settings.VetNight = "555 0142", "555 0199"
	everySign(t, b, "555 0142", "555 0199")
}

func everySign(t *testing.T, b *bench, phones ...string) {
	b.open(nav.Injection, 0, layout.Size{W: 60, H: 20})
	for _, d := range procedure.Dangers() {
		assert.True(t, b.Shows(d.Title), d.Title)
	}
	for i, d := range procedure.Dangers() {
		if i > 0 {
			b.Press("down")
		}
		right := ""
		for _, line := range b.Lines() {
			if _, r, ok := strings.Cut(line, "│"); ok {
				right += " " + strings.TrimSpace(r)
			}
		}
		for _, first := range d.First {
			assert.Contains(t, right, first, d.Key)
		}
		call := "TELL THE VET TODAY"
		if d.Now {
			call = "CALL THE VET NOW"
		}
		assert.Contains(t, right, call, d.Key)
		for _, phone := range phones {
			assert.Contains(t, right, phone, d.Key)
		}
	}
	b.Squeeze()
}

func TestItIsThereWhereTheRecordIsNot(t *testing.T) {
	b := sit(t)
	b.store.FailWith(assert.AnError)
	b.open(nav.Injection, 1, wide())
	assert.True(t, b.Shows("CALL THE VET NOW"), b.View())
	b.Press("1")
	assert.True(t, b.Reads("The visit cannot be read, so nothing can be"), b.View())
}

func TestASignStopsTheRunningInjection(t *testing.T) {
	b := sit(t)
	screentest.Lines(t, b.store, b.id, exam.InjectionLine{Phase: exam.InjectionReady, Order: screentest.Ordered()},
		exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}}, exam.InjectionLine{Phase: exam.InjectionClear})
	b.open(nav.Injection, 1, wide())
	assert.True(t, b.Shows("stops the injection"))
	b.Press("2") // a reaction
	b.Press("enter", "ctrl+s", "2", "1")
	assert.True(t, b.Reads("What is seen?"), "neither enter nor a number answers it")
	b.Press("b", "e", "backspace", "d", "d", "w")
	b.Type("after a breath")
	b.Press("enter", "enter")
	assert.True(t, b.Reads("How much went in?"), b.View())
	b.Press("enter", "b", "2")
	assert.True(t, b.Reads("How much went in?"), b.View())
	b.Press("a")
	b.Type("0.4")
	b.Press("enter", "enter")
	i, _ := b.visit().Injection(1)
	assert.Equal(t, exam.InjectionStopped, i.State)
	assert.Equal(t, procedure.Reaction, i.Sign)
	assert.Equal(t, "Reaction to the product: hives, swollen face or eyelids, fast or labored breathing, after a breath", i.SignWords)
	assert.InDelta(t, 0.4, i.GivenML, 0)
	for _, text := range []string{"It is saved. Read this to the veterinarian", "To Dr. R. Sommer", "Vaccine T, lot LT-4471, 0.4 mL given, IM, neck triangle, left, at 11:05", "hives"} {
		assert.True(t, b.Reads(text), "%s: %s", text, b.View())
	}
	assert.True(t, b.Shows("stops the injection"), "the first line says still what it did")
	b.Press("enter", "enter")
	assert.False(t, b.Left(), "one enter too many does not close what is read out")
	b.Press("r")
	assert.True(t, b.Left())
}

func TestAReactionInTheWatchEndsItAndLocksAgain(t *testing.T) {
	b := sit(t)
	screentest.Given(t, b.store, b.id)
	screentest.Write(t, b.store, b.id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	now := screentest.Now().Add(4 * time.Minute)
	b.deps.Now = func() time.Time { return now }
	b.open(nav.Watch, 1, wide())
	assert.True(t, b.Shows("observe: Bracken 16:00"), b.View())
	b.Press("2", "b", "enter")
	v := b.visit()
	require.Len(t, v.Watches, 1)
	assert.Equal(t, exam.WatchReaction, v.Watches[0].State)
	assert.Equal(t, procedure.Reaction, v.Watches[0].Sign)
	assert.False(t, b.Shows("observe: Bracken"), "the clock stops on every screen")
	assert.True(t, b.Reads("4 minutes after it"), b.View())
	err := authorization.CheckProcedure(v, nil, exam.Procedure{Kind: exam.Drawing, At: now})
	require.ErrorIs(t, err, exam.ErrRefused)
}

func TestAReactionLongAfterTheInjectionIsWrittenToIt(t *testing.T) {
	b := sit(t)
	screentest.Given(t, b.store, b.id)
	b.open(nav.Injection, 0, wide()) // the order of the next one is being typed
	b.Press("2", "b", "enter")
	v := b.visit()
	require.Len(t, v.Watches, 1)
	assert.Equal(t, 1, v.Watches[0].Injection)
	assert.Equal(t, exam.WatchReaction, v.Watches[0].State)
}

// Hours later the visit is closed: the reaction is written into it all the same,
// and it shows that it was written later.
func TestAReactionAfterTheVisitWasClosed(t *testing.T) {
	b := sit(t)
	screentest.Given(t, b.store, b.id)
	screentest.Write(t, b.store, b.id, exam.Entry{Kind: exam.EntryClosed})
	b.open(nav.Watch, 1, wide())
	b.Press("5", "b", "enter")
	assert.True(t, b.Reads("It is saved. Read this to the veterinarian"), b.View())
	v := b.visit()
	require.Len(t, v.Watches, 1)
	assert.Equal(t, procedure.Muscle, v.Watches[0].Sign)
	lines, err := b.store.Entries(b.id)
	require.NoError(t, err)
	last := lines[len(lines)-1]
	assert.Equal(t, exam.EntryAdded, last.Kind)
	require.NotNil(t, last.Amend)
	assert.Equal(t, exam.AmendSignSeen, last.Amend.Why)
}

func TestASignStopsTheDraw(t *testing.T) {
	b := sit(t)
	for _, l := range []exam.DrawLine{
		{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "blood count"}},
		{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular, upper third", Side: exam.Left}},
		{Number: 1, Phase: exam.DrawTube, Tube: &exam.Tube{Kind: "EDTA", ML: 3}},
	} {
		screentest.Write(t, b.store, b.id, exam.Entry{Kind: exam.EntryDraw, Draw: &l})
	}
	b.open(nav.Draw, 1, wide())
	b.Press("1", "b", "enter", "t")
	d, _ := b.visit().Draw(1)
	assert.Equal(t, exam.DrawStopped, d.State)
	assert.Equal(t, procedure.Artery, d.Sign)
	assert.InDelta(t, 3, d.DrawnML(), 0, "what the tubes held is offered")
}

// A key a question: the sign, what is seen, how much went in.
func TestASignOfDangerIsOneKeyAQuestion(t *testing.T) {
	b := sit(t)
	screentest.Lines(t, b.store, b.id, exam.InjectionLine{Phase: exam.InjectionReady, Order: screentest.Ordered()},
		exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}}, exam.InjectionLine{Phase: exam.InjectionClear})
	b.open(nav.Injection, 1, wide())
	b.Press("enter", "space", "0")
	assert.True(t, b.Shows("Hot, hard or swollen vein"), "none of them chooses")
	b.Press("1")
	assert.True(t, b.Reads("1 Stop. Get people clear; nobody lies on the horse."), b.View())
	b.Press("esc")
	assert.True(t, b.Shows("Hot, hard or swollen vein"), "esc shows the list")
	b.Press("1", "f", "enter", "k")
	i, _ := b.visit().Injection(1)
	assert.Equal(t, exam.InjectionStopped, i.State)
	assert.Equal(t, procedure.Artery, i.Sign)
	assert.True(t, i.NotKnown)
	assert.Equal(t, "Into the artery: seizure, lies down, does not respond", i.SignWords)
}

// A held or bouncing key, whichever it is, writes no sign down.
func TestNoKeyPressedOverAndOverWritesASign(t *testing.T) {
	for _, key := range strings.Fields("1 2 3 4 5 6 7 8 9 0 a b c d e f g i j k l m n o p q r t u v w y z enter space ctrl+s tab backspace") {
		b := sit(t)
		screentest.Given(t, b.store, b.id)
		b.open(nav.Watch, 1, wide())
		for range 12 {
			b.Press(key)
		}
		assert.Empty(t, b.visit().Watches, key)
	}
}

func TestWithoutAProcedureItIsANote(t *testing.T) {
	b := sit(t).open(nav.Injection, 0, wide())
	b.Press("6", "b", "enter")
	v := b.visit()
	require.Len(t, v.Notes, 1)
	assert.Contains(t, v.Notes[0].Text, "Hot, hard or swollen vein: hot, thick, cord-like, painful vein")
}

func TestGoldenDangers(t *testing.T) {
	screentest.Goldens(t, "dangers", func(t *testing.T, size layout.Size) *screentest.Driver {
		return sit(t).open(nav.Injection, 0, size).Driver
	})
	screentest.Goldens(t, "dangers-record", func(t *testing.T, size layout.Size) *screentest.Driver {
		b := sit(t)
		screentest.Given(t, b.store, b.id)
		b.open(nav.Watch, 1, size)
		b.Press("2", "b")
		return b.Driver
	})
	screentest.Goldens(t, "dangers-told", func(t *testing.T, size layout.Size) *screentest.Driver {
		b := sit(t)
		screentest.Given(t, b.store, b.id)
		b.open(nav.Watch, 1, size)
		b.Press("2", "b", "enter")
		return b.Driver
	})
}
