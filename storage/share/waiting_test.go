package share_test

import (
	"context"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/share"
)

// fill imports closed visits until so many lines are there.
func (l *laptop) fill(t *testing.T, lines int) {
	t.Helper()
	const each, visits = 62, 20
	for n := 0; n < lines; n += each*visits + 1 {
		l.n++
		one := storage.Imported{Horse: exam.Horse{Name: fmt.Sprint(l.name, " ", l.n), Kind: exam.AnimalHorse, Revision: 1}, By: l.name, At: day()}
		for range visits {
			list := []exam.Entry{{Kind: exam.EntryOpened, At: day(), By: l.name, Opening: &exam.Opening{Routine: "full", Reason: "yearly check"}}}
			for i := range each - 2 {
				list = append(list, exam.Entry{
					At: day(), By: l.name, Kind: exam.EntryFinding, Step: exam.StepID(fmt.Sprintf("step.number%d", i)),
					Value: &exam.Value{Kind: exam.KindPick, Words: []string{fmt.Sprint("word ", i+l.n)}},
				})
			}
			one.Entries = append(one.Entries, append(list, exam.Entry{At: day(), By: l.name, Kind: exam.EntryClosed}))
		}
		require.NoError(t, l.Import(t.Context(), []storage.Imported{one}))
	}
}

// looks counts how often an exchange looks into a record, and how much of it at once.
type looks struct {
	*laptop
	segments, longest, others, writes int
}

func (l *looks) Next(log signedlog.ID, after, upTo uint64) (signedlog.Segment, error) {
	s, err := l.laptop.Next(log, after, upTo)
	l.segments, l.longest = l.segments+1, max(l.longest, len(s.Cores))
	return s, err
}

func (l *looks) Logs() ([]storage.Held, error) {
	l.others++
	return l.laptop.Logs()
}

func (l *looks) Holds(row signedlog.ID, at signedlog.RecordRef) (bool, error) {
	l.others++
	return l.laptop.Holds(row, at)
}

func (l *looks) Adopt(ctx context.Context, feed func(take func(signedlog.Segment) error) error) (storage.Adopted, error) {
	return l.laptop.Adopt(ctx, func(take func(signedlog.Segment) error) error {
		return feed(func(s signedlog.Segment) error {
			l.writes++
			return take(s)
		})
	})
}

// 100,000 lines wait and go out beside an exam. Nothing of it blocks an answer: while the
// stick is written to no transaction of the exchange is open, so that an answer is stored
// within each of its writes; a look into the record is one segment long at most; and the
// exchange writes nothing into the record until it is over.
func TestAnswersAreStoredWhileLinesGoOut(t *testing.T) {
	lines := 10_000
	if os.Getenv("LOOSEBOX_LONG") != "" {
		lines = 100_000
	}
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.fill(t, lines)
	h, err := ann.Horses()
	require.NoError(t, err)
	v, err := ann.Begin(exam.Entry{Kind: exam.EntryOpened, At: day(), By: "ann", Opening: &exam.Opening{Horse: exam.Horse{ID: h[0].Horse.ID}, Routine: "full"}})
	require.NoError(t, err)
	answers, d := 0, &disk{}
	known := share.New(stick).SyncBy(func(f *os.File) error {
		if answers == 1 {
			ann.fill(t, 1) // the record's file grows, which waits for whoever reads it
		}
		ann.answer(t, v.ID, answers)
		answers++
		return d.sync(f)
	})
	known.Later = true
	counted := &looks{laptop: ann}
	done, err := known.Exchange(t.Context(), counted)
	require.NoError(t, err)
	require.NoError(t, done.Unwritten)
	assert.GreaterOrEqual(t, done.Lines, lines)
	assert.Equal(t, done.Files, counted.segments, "each file is one look")
	assert.LessOrEqual(t, counted.longest, signedlog.MaxRecords)
	assert.GreaterOrEqual(t, answers, done.Files, "an answer for each file and more")
	assert.Zero(t, counted.writes)
	assert.LessOrEqual(t, counted.others, 8, "however many lines wait")
	ann.exchange(t, stick)
	bea.exchange(t, stick)
	same(t, ann, bea)
}
