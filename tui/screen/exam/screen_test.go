package exam_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	screen "loosebox/tui/screen/exam"
	"loosebox/tui/screentest"
)

// begin opens an exam of the routine and puts its screen up.
func begin(t testing.TB, name, routine string, size layout.Size) (*screentest.Driver, exam.Store, exam.VisitID) {
	t.Helper()
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v, err := store.Begin(exam.Entry{
		Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell",
		Opening: &exam.Opening{Horse: horses[name], Routine: routine},
	})
	require.NoError(t, err)
	return screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, size), store, v.ID
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

func finding(t testing.TB, store exam.Store, id exam.VisitID, k exam.Key) exam.Finding {
	t.Helper()
	v, err := store.Visit(id)
	require.NoError(t, err)
	f, ok := v.Finding(k)
	require.True(t, ok, "%v has no finding", k)
	return f
}

func TestAcceptedAnswerIsStoredBeforeTheScreenMovesOn(t *testing.T) {
	d, store, id := begin(t, "Thistle", "tpr-recheck", wide())
	d.GoTo(t, "Rectal temperature")
	d.Type("39.4")
	d.Press("enter")
	f := finding(t, store, id, exam.Key{Step: "temp.rectal"})
	assert.Equal(t, "39.4 C", f.Value.Number.String())
	assert.Contains(t, d.View(), "TELL THE VET")
	assert.Contains(t, d.View(), "kicks", "the cautions stay in sight")
}

func TestRefusedNumberStaysOnTheScreen(t *testing.T) {
	d, store, id := begin(t, "Thistle", "tpr-recheck", wide())
	d.GoTo(t, "Rectal temperature")
	d.Type("384")
	d.Press("enter")
	assert.Contains(t, d.View(), "38.4 C", "what was probably meant")
	v, err := store.Visit(id)
	require.NoError(t, err)
	_, ok := v.Finding(exam.Key{Step: "temp.rectal"})
	assert.False(t, ok)
}

func TestNotDoneTakesAReasonForAllOpenSites(t *testing.T) {
	d, store, id := begin(t, "Thistle", "full-exam", wide())
	d.GoTo(t, "Lung sounds")
	d.Press("x", "2", "enter")
	for _, site := range []exam.Site{exam.LeftUpper, exam.LeftLower} {
		f := finding(t, store, id, exam.Key{Step: "lung.sounds", Site: site})
		assert.Equal(t, exam.ReasonUnsafe, f.NotDone)
	}
}

func TestReasonOtherAsksForWords(t *testing.T) {
	d, store, id := begin(t, "Thistle", "tpr-recheck", wide())
	d.GoTo(t, "Rectal temperature")
	d.Press("x", "5", "enter")
	d.Type("thermometer broke")
	d.Press("enter")
	f := finding(t, store, id, exam.Key{Step: "temp.rectal"})
	assert.Equal(t, exam.ReasonOther, f.NotDone)
	assert.Equal(t, "thermometer broke", f.Note)
}

func TestAllUsualAnswersEveryOpenSite(t *testing.T) {
	d, store, id := begin(t, "Thistle", "full-exam", wide())
	d.GoTo(t, "Gut sounds")
	d.Press("a")
	for _, site := range []exam.Site{exam.LeftUpper, exam.LeftLower} {
		assert.True(t, finding(t, store, id, exam.Key{Step: "gut.sounds", Site: site}).Value.Usual)
	}
}

func TestUsualIsRefusedWhereItIsNoDefinedAnswer(t *testing.T) {
	d, store, id := begin(t, "Thistle", "tpr-recheck", wide())
	d.GoTo(t, "Rectal temperature")
	before, err := store.Visit(id)
	require.NoError(t, err)
	d.Press("u")
	after, err := store.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, before.Entries, after.Entries)
	assert.Contains(t, d.View(), "this step has no single usual answer")
}

func TestANoteIsStoredAtOnce(t *testing.T) {
	d, store, id := begin(t, "Thistle", "tpr-recheck", wide())
	d.GoTo(t, "Rectal temperature")
	d.Press("w")
	d.Type("swung round, u x ? h")
	d.Press("enter")
	v, err := store.Visit(id)
	require.NoError(t, err)
	require.Len(t, v.NotesAt(exam.Key{Step: "temp.rectal"}), 1)
	assert.Equal(t, "swung round, u x ? h", v.Notes[0].Text)
}

func TestJumpComesBackAfterTheAnswer(t *testing.T) {
	d, _, _ := begin(t, "Thistle", "full-exam", wide())
	from := d.Heading(t)
	d.GoTo(t, "Gum color")
	d.Press("u")
	assert.Equal(t, from, d.Heading(t))
}

func TestFailedSaveSaysSoAndKeepsTheAnswer(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell", Opening: &exam.Opening{Horse: horses["Thistle"], Routine: "tpr-recheck"}})
	require.NoError(t, err)
	deps.Store = &fullDisk{Store: store}
	d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, wide())
	d.GoTo(t, "Rectal temperature")
	d.Type("38.2")
	d.Press("enter")
	assert.Contains(t, d.View(), "NOT saved")
	assert.Contains(t, d.View(), "38.2", "what was typed is still there")
}

// fullDisk takes no entry.
type fullDisk struct{ exam.Store }

func (f *fullDisk) Append(exam.Entry, ...exam.Check) (exam.Entry, error) {
	return exam.Entry{}, errors.New("no space left on the disk")
}

func TestARunningCountIsNotLeftByOneKey(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		d, _, _ := begin(t, "Thistle", "tpr-recheck", wide())
		d.GoTo(t, "Heart rate")
		d.Press(space, "tab")
		assert.Contains(t, d.View(), "running")
		d.Press("esc")
		assert.False(t, d.Left())
		d.Press("esc")
		assert.True(t, d.Left())
	}
}

func TestTheWholeRoutineEndsInTheReview(t *testing.T) {
	d, store, id := begin(t, "Pip", "full-exam", wide())
	for range 200 {
		if d.Last().Screen == nav.Review {
			break
		}
		d.Press("x", "enter")
	}
	assert.Equal(t, nav.Review, d.Last().Screen)
	v, err := store.Visit(id)
	require.NoError(t, err)
	for _, r := range mustRoutines(t) {
		if r.Name == "full-exam" {
			deps, _ := screentest.Deps(t)
			assert.Empty(t, v.Left(r.For(v.Class(), deps.Steps)))
		}
	}
}

func mustRoutines(t testing.TB) []exam.Routine {
	deps, _ := screentest.Deps(t)
	return deps.Routines
}

func TestHostileHorseCannotBreakTheScreen(t *testing.T) {
	deps, store := screentest.Deps(t)
	bad := "\x1b[2J\x1b[31m" + strings.Repeat("W馬\u202e", 3000)
	h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: bad, Kind: exam.AnimalHorse, Cautions: []string{bad}}, "Ann", screentest.Now())
	require.NoError(t, err)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
	require.NoError(t, err)
	for _, size := range screentest.Sizes() {
		screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, size).View() // asserts width and height
	}
}

func TestGoldenExam(t *testing.T) {
	screentest.Goldens(t, "exam-temperature", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := begin(t, "Bracken", "full-exam", size)
		d.GoTo(t, "Rectal temperature")
		d.Type("38.9")
		return d
	})
	screentest.Goldens(t, "exam-gut", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := begin(t, "Thistle", "full-exam", size)
		d.GoTo(t, "Gut sounds")
		return d
	})
	screentest.Goldens(t, "exam-leg", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := begin(t, "Thistle", "full-exam", size)
		d.GoTo(t, "Limb")
		d.Press("u", "1", "enter")
		return d
	})
}

func TestPictureOfACount(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.InColour(deps)
	deps.Settings.VetPhone = "555 0142"
	_, v := screentest.Story(t, store)
	d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, wide())
	require.Equal(t, "Rectal temperature", d.Heading(t))
	d.Type("38.7")
	d.Press("enter")
	require.Equal(t, "Heart rate", d.Heading(t))
	for range 34 { // 64 a minute
		deps.Now = after(deps.Now(), 937*time.Millisecond)
		d.Press("space")
	}
	d.Picture("count")
}

// after is a clock that stands at so long after a moment.
func after(at time.Time, by time.Duration) func() time.Time {
	return func() time.Time { return at.Add(by) }
}

func BenchmarkView(b *testing.B) {
	d, _, _ := begin(b, "Bracken", "full-exam", wide())
	s := d.Screen()
	for b.Loop() {
		s.View(layout.Size{W: 80, H: 19})
	}
}

// An answer given in an exam screen over another one of the same visit moves
// only the upper one.
func TestAnAnswerBelongsToTheScreenThatGaveIt(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann", Opening: &exam.Opening{Horse: horses["Thistle"], Routine: "tpr-recheck"}})
	require.NoError(t, err)
	lower := screen.New(deps, nav.Address{Visit: v.ID})
	upper := screen.New(deps, nav.Address{Visit: v.ID, At: exam.Key{Step: "temp.rectal"}})
	both := func(msg tea.Msg) tea.Cmd { lower.Update(msg); return upper.Update(msg) }
	lower.Update(lower.Init()())
	both(upper.Init()())
	before := lower.View(wide())
	for _, key := range []string{"3", "8", ".", "2"} {
		upper.Update(keys.Press{KeyMsg: screentest.Key(key), At: screentest.Now()})
	}
	saved := upper.Update(keys.Press{KeyMsg: screentest.Key("enter"), At: screentest.Now()})
	require.NotNil(t, saved)
	back := both(saved())
	assert.Equal(t, before, lower.View(wide()))
	require.NotNil(t, back)
	assert.IsType(t, nav.BackMsg{}, back())
}

// Between enter and the answer of the store the exam says so, and the root waits.
func TestTheScreenSaysThatAnAnswerIsOnItsWay(t *testing.T) {
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann", Opening: &exam.Opening{Horse: horses["Thistle"], Routine: "tpr-recheck"}})
	require.NoError(t, err)
	s := screen.New(deps, nav.Address{Visit: v.ID, At: exam.Key{Step: "temp.rectal"}})
	s.Update(s.Init()())
	saver, ok := s.(nav.Saver)
	require.True(t, ok)
	for _, key := range []string{"3", "8", ".", "2"} {
		s.Update(keys.Press{KeyMsg: screentest.Key(key), At: screentest.Now()})
	}
	assert.False(t, saver.Saving())
	write := s.Update(keys.Press{KeyMsg: screentest.Key("enter"), At: screentest.Now()})
	assert.True(t, saver.Saving())
	s.Update(write())
	assert.False(t, saver.Saving())
}

// After a run that ended between "needle in" and "given" the exam asks first what
// happened, and goes on when that is said or left for later.
func TestAnOpenNeedleIsAskedAboutFirst(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine())
	screentest.NeedleIn(t, store, v.ID)
	d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, wide())
	require.Equal(t, []nav.Address{{Screen: nav.Injection, Horse: v.Horse.ID, Visit: v.ID, Number: 1}}, d.Opened())
	d.Press("esc")
	assert.True(t, d.Reads("A needle is in: p, and record what happened to it."), "left for later, it stays in sight")
	assert.Len(t, d.Opened(), 1, "and is not asked again at once")
	d.GoTo(t, "Rectal temperature")
	d.Press("p")
	assert.Equal(t, nav.Address{Screen: nav.After, Visit: v.ID}, d.Last())
	screentest.Add(t, store, v.ID, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionStopped, Why: "it moved"}})
	d.Press("esc")
	assert.False(t, d.Reads("A needle is in"))
}

// Digits that are read from across the box come before what the count is set beside: a past, a half hour of work and a
// remark about the answer before never take their room.
func TestACountKeepsItsLargeDigits(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, store := screentest.Deps(t)
		h := screentest.Yard(t, store)["Thistle"]
		for i := range 6 {
			screentest.Visit(t, store, h, screentest.Now().AddDate(0, 0, -30*(i+1)), 38, 36)
		}
		v, err := store.Begin(exam.Entry{
			Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell",
			Opening: &exam.Opening{Horse: h, Routine: "tpr-recheck"},
		})
		require.NoError(t, err)
		_, err = store.Append(exam.Entry{
			Visit: v.ID, Kind: exam.EntryContext, At: screentest.Now(), By: "Ann Bell", Context: &exam.Context{States: []exam.State{exam.StateWorked}},
		})
		require.NoError(t, err)
		d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, size)
		d.GoTo(t, "Heart rate")
		assert.True(t, d.Shows("██████"), "%v\n%s", size, d.View())
		d.Press("s")
		assert.True(t, d.Shows("Where it comes from"), "what went stands under s")
	}
}

// An open visit that somebody else goes on with asks who is working now; one's own goes on at once.
func TestAnotherPersonIsAskedForTheirName(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Bo Lind", Opening: &exam.Opening{Horse: h, Routine: "tpr-recheck"}})
	require.NoError(t, err)
	d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, wide())
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: h.ID, Visit: v.ID}, d.Last())
	d = screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID, From: nav.Start}, wide())
	assert.Empty(t, d.Opened(), "it was asked")
	deps.Settings.Person = "Bo Lind"
	later := deps.Now
	deps.Now = func() time.Time { return screentest.Now().Add(80 * time.Hour) }
	d = screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, wide())
	assert.Equal(t, nav.Address{Screen: nav.Start, Horse: h.ID, Visit: v.ID}, d.Last(), "one's own after three days is not gone on with unsaid")
	deps.Now = later
	d = screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, wide())
	assert.Empty(t, d.Opened())
}

// A quick count and the calculators lie over an exam: what was typed is still there when
// they are closed, and nothing is stored.
func TestACountAndTheCalculatorsLieOverTheExam(t *testing.T) {
	for _, key := range []string{"q", "="} {
		d, store, id := begin(t, "Thistle", "tpr-recheck", wide())
		d.GoTo(t, "Rectal temperature")
		d.Type("38.")
		d.Press(key)
		want := map[string]nav.Name{"q": nav.Tally, "=": nav.Sums}[key]
		assert.Equal(t, want, d.Last().Screen)
		d.Press("esc")
		assert.True(t, d.Shows("38."), d.View())
		v, err := store.Visit(id)
		require.NoError(t, err)
		assert.Empty(t, v.Findings)
		d.GoTo(t, "Heart rate")
		d.Press("space", "space", key)
		assert.True(t, d.Reads("A count or timer is running"), d.View())
	}
}
