package share_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/share"
)

func day() time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC) }

// laptop is one record that shares.
type laptop struct {
	*storage.Record
	name string
	dir  string
	n    int
}

func newLaptop(t testing.TB, name string) *laptop {
	t.Helper()
	return openLaptop(t, name, t.TempDir())
}

func openLaptop(t testing.TB, name, dir string) *laptop {
	t.Helper()
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	l := &laptop{Record: r, name: name, dir: dir}
	t.Cleanup(func() { _ = l.Close() })
	return l
}

// shortLived is a laptop of one round of a property.
type shortLived struct{ *laptop }

func rapidLaptop(t *rapid.T, name string) shortLived {
	dir, err := os.MkdirTemp("", "loosebox-share-*")
	require.NoError(t, err)
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	return shortLived{&laptop{Record: r, name: name, dir: dir}}
}

func (s shortLived) end() {
	_ = s.Close()
	_ = os.RemoveAll(s.dir)
}

// sound checks the whole record.
func (l *laptop) sound(t require.TestingT) {
	report, err := l.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%s: %v", l.name, report.Broken)
	require.Zero(t, report.Waiting, l.name)
}

// examine writes a horse and a visit of some findings, and closes it.
func (l *laptop) examine(t require.TestingT, findings int) exam.VisitID {
	l.n++
	at := day().Add(time.Duration(l.n) * time.Hour)
	h, err := l.SaveHorse(exam.Horse{Name: fmt.Sprint(l.name, " ", l.n), Kind: exam.AnimalHorse, Revision: 1}, l.name, at)
	require.NoError(t, err)
	v, err := l.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: l.name, Opening: &exam.Opening{Horse: exam.Horse{ID: h.ID}, Routine: "full", Reason: "yearly check"}})
	require.NoError(t, err)
	for i := range findings {
		l.answer(t, v.ID, i)
	}
	_, err = l.Append(exam.Entry{Visit: v.ID, At: at, By: l.name, Kind: exam.EntryClosed})
	require.NoError(t, err)
	return v.ID
}

func (l *laptop) answer(t require.TestingT, v exam.VisitID, i int) {
	_, err := l.Append(exam.Entry{
		Visit: v, At: day(), By: l.name, Kind: exam.EntryFinding, Step: exam.StepID(fmt.Sprintf("step.number%d", i)),
		Value: &exam.Value{Kind: exam.KindPick, Words: []string{fmt.Sprint("word ", i)}},
	})
	require.NoError(t, err)
}

// exchange shares once by a folder as a new run does, and asks for no complaint.
func (l *laptop) exchange(t require.TestingT, dir string) share.Result {
	done, err := share.New(dir).Exchange(context.Background(), l)
	require.NoError(t, err, l.name)
	require.NoError(t, done.Unwritten, l.name)
	require.Empty(t, done.In.Aside, l.name)
	require.Zero(t, done.Waiting, l.name)
	return done
}

// holds is what a record holds: the digest of the last record of each log.
func (l *laptop) holds(t require.TestingT) string {
	logs, err := l.Logs()
	require.NoError(t, err)
	var ends []string
	for _, h := range logs {
		ends = append(ends, fmt.Sprintf("%s %d %s\n", h.Log, h.N, h.Last))
	}
	slices.Sort(ends) // which of two branches is the log's own row differs
	return strings.Join(ends, "")
}

// same asks that all records hold the same logs and that each is whole.
func same(t require.TestingT, list ...*laptop) {
	for _, l := range list {
		l.sound(t)
		require.Equal(t, list[0].holds(t), l.holds(t), "%s and %s", list[0].name, l.name)
	}
}

// files are the segments in a folder.
func files(t require.TestingT, dir string) []string {
	list, err := filepath.Glob(filepath.Join(dir, "*", "*.seg"))
	require.NoError(t, err)
	return list
}

func TestAStickCarriesEveryVisit(t *testing.T) {
	stick := t.TempDir()
	ann, bea, cal := newLaptop(t, "ann"), newLaptop(t, "bea"), newLaptop(t, "cal")
	for range 3 {
		ann.examine(t, 5)
		bea.examine(t, 3)
	}
	out := ann.exchange(t, stick)
	assert.Equal(t, 3*8, out.Lines, "horse, opening, findings, closing")
	assert.Equal(t, 1, out.Files, "visits that follow each other go into one file")
	in := bea.exchange(t, stick)
	assert.Equal(t, 3, in.In.Visits)
	cal.exchange(t, stick)
	ann.exchange(t, stick)
	same(t, ann, bea, cal)
	assert.True(t, share.New(stick).There())
	assert.False(t, share.New(t.TempDir()).There(), "a place where a stick may be seen is not the stick")

	before := files(t, stick)
	for _, l := range []*laptop{ann, bea, cal} {
		done := l.exchange(t, stick)
		assert.Equal(t, share.Result{}, done, "nothing new: nothing written, nothing taken")
	}
	assert.Equal(t, before, files(t, stick))

	again, err := bea.Recent(0)
	require.NoError(t, err)
	list, err := cal.Recent(0)
	require.NoError(t, err)
	assert.Equal(t, again, list, "the same visits, folded the same")
}

// Two sticks, and laptops that never see the same one.
func TestLinesGoOnFromStickToStick(t *testing.T) {
	one, two := t.TempDir(), t.TempDir()
	ann, bea, cal := newLaptop(t, "ann"), newLaptop(t, "bea"), newLaptop(t, "cal")
	for range 4 {
		ann.examine(t, 2)
		cal.examine(t, 2)
		ann.exchange(t, one)
		bea.exchange(t, one)
		bea.exchange(t, two)
		cal.exchange(t, two)
	}
	bea.exchange(t, two)
	bea.exchange(t, one)
	ann.exchange(t, one)
	same(t, ann, bea, cal)
}

// A visit that is still open goes along, and what follows it goes from there.
func TestAnOpenVisitGoesAlong(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	h, err := ann.Horses()
	require.NoError(t, err)
	v, err := ann.Begin(exam.Entry{Kind: exam.EntryOpened, At: day(), By: "ann", Opening: &exam.Opening{Horse: exam.Horse{ID: h[0].Horse.ID}, Routine: "full"}})
	require.NoError(t, err)
	for i := range 5 {
		ann.answer(t, v.ID, i)
		ann.exchange(t, stick)
		bea.exchange(t, stick)
		same(t, ann, bea)
	}
	_, err = ann.Append(exam.Entry{Visit: v.ID, At: day(), By: "ann", Kind: exam.EntryClosed})
	require.NoError(t, err)
	assert.Equal(t, 1, ann.exchange(t, stick).Lines, "the rest is in the folder already, cut elsewhere")
	bea.exchange(t, stick)
	same(t, ann, bea)
	cal := newLaptop(t, "cal")
	cal.exchange(t, stick)
	same(t, ann, cal)
}

// In the run of one program the folder is read once: what is the same by size and time
// is not opened again, and what others add is.
func TestARunGoesOnWithWhatItKnows(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	known := share.New(stick)
	for i := range 4 {
		ann.examine(t, 2)
		done, err := known.Exchange(context.Background(), ann)
		require.NoError(t, err)
		assert.Equal(t, 5, done.Lines)
		assert.Equal(t, min(i, 1), done.In.Visits)
		bea.exchange(t, stick)
		bea.examine(t, 2)
		bea.exchange(t, stick)
	}
	_, err := known.Exchange(context.Background(), ann)
	require.NoError(t, err)
	same(t, ann, bea)
}

// An exchange in the background leaves the lines of an open visit for later, and says that
// they wait; with the closing they go.
func TestAnOpenVisitIsLeftForLater(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	known := share.New(stick)
	known.Later = true
	h, err := ann.Horses()
	require.NoError(t, err)
	v, err := ann.Begin(exam.Entry{Kind: exam.EntryOpened, At: day(), By: "ann", Opening: &exam.Opening{Horse: exam.Horse{ID: h[0].Horse.ID}, Routine: "full"}})
	require.NoError(t, err)
	for i := range 5 {
		ann.answer(t, v.ID, i)
		done, err := known.Exchange(context.Background(), ann)
		require.NoError(t, err)
		assert.Equal(t, 2+i, done.Waiting)
		assert.Len(t, files(t, stick), 1)
	}
	_, err = ann.Append(exam.Entry{Visit: v.ID, At: day(), By: "ann", Kind: exam.EntryClosed})
	require.NoError(t, err)
	done, err := known.Exchange(context.Background(), ann)
	require.NoError(t, err)
	assert.Zero(t, done.Waiting)
	assert.Len(t, files(t, stick), 2)
	bea.exchange(t, stick)
	same(t, ann, bea)
}

// A joining, a setting of the practice and a horse are of no visit: they wait until the next
// exchange and no longer, and take the answers along that are before them. Answers alone wait.
func TestWhatIsOfNoVisitGoesAtOnce(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	ann.examine(t, 2)
	known := share.New(stick)
	exchange := func() share.Result {
		t.Helper()
		done, err := known.Exchange(t.Context(), ann)
		require.NoError(t, err)
		require.NoError(t, done.Unwritten)
		return done
	}
	exchange()
	known.Later = true
	h, err := ann.Horses()
	require.NoError(t, err)
	v, err := ann.Begin(exam.Entry{Kind: exam.EntryOpened, At: day(), By: "ann", Opening: &exam.Opening{Horse: exam.Horse{ID: h[0].Horse.ID}, Routine: "full"}})
	require.NoError(t, err)
	assert.Equal(t, 1, exchange().Waiting)
	both := []exam.HorseID{h[0].Horse.ID, h[1].Horse.ID}
	waiting := 1 // the opening
	for i, write := range []func() error{
		func() error { return ann.Join(exam.Joining{Horses: both, By: "ann", At: day()}) },
		func() error { return ann.Join(exam.Joining{Horses: both, Apart: true, By: "ann", At: day()}) },
		func() error {
			value, err := exam.SettingName.Read("Hollow Farm Vets")
			require.NoError(t, err)
			return ann.SaveSetting(exam.Setting{Key: exam.SettingName, Value: value, By: "ann", At: day()})
		},
		func() error {
			_, err := ann.SaveHorse(exam.Horse{Name: "new", Kind: exam.AnimalHorse, Revision: 1}, "ann", day())
			return err
		},
	} {
		require.NoError(t, write())
		done := exchange()
		assert.Equal(t, waiting+1, done.Lines, "%d: with what was before it", i)
		assert.Zero(t, done.Waiting)
		ann.answer(t, v.ID, i)
		assert.Zero(t, exchange().Lines, "an answer alone waits")
		waiting = 1
	}
	bea.exchange(t, stick)
	known.Later = false
	exchange()
	bea.exchange(t, stick)
	same(t, ann, bea)
}

func TestAFolderThatIsNotThere(t *testing.T) {
	ann := newLaptop(t, "ann")
	ann.examine(t, 2)
	dir := filepath.Join(t.TempDir(), "stick")
	_, err := share.New(dir).Exchange(context.Background(), ann)
	require.ErrorIs(t, err, share.ErrNoFolder)
	assert.Equal(t, dir+": the folder is not there. Plug the stick in, or make the folder first", err.Error(), "said once")
	assert.NoDirExists(t, dir, "it is not made: it may be the place of a stick")
	require.NoError(t, os.WriteFile(dir, nil, 0o600))
	_, err = share.New(dir).Exchange(context.Background(), ann)
	require.ErrorIs(t, err, share.ErrNoFolder)
}

// What is broken off goes on the next time.
func TestAnExchangeThatIsBrokenOffGoesOn(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	for range 150 {
		ann.examine(t, 4)
	}
	ctx, stop := context.WithCancel(context.Background())
	n := 0
	_, err := share.New(stick).Exchange(ctx, counting{ann, func() {
		if n++; n == 2 {
			stop()
		}
	}})
	require.ErrorIs(t, err, context.Canceled)
	assert.NotEmpty(t, files(t, stick))
	ann.exchange(t, stick)
	bea.exchange(t, stick)
	same(t, ann, bea)
}

// counting is a record that tells of each segment it gives.
type counting struct {
	*laptop
	tell func()
}

func (c counting) Next(log signedlog.ID, after, upTo uint64) (signedlog.Segment, error) {
	c.tell()
	return c.laptop.Next(log, after, upTo)
}
