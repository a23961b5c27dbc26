package server_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// looks counts how an exchange uses a record while lines go out.
type looks struct {
	*mate
	between                   func()
	segments, longest, writes int
}

func (l *looks) Next(row signedlog.ID, after, upTo uint64) (signedlog.Segment, error) {
	l.between()
	s, err := l.mate.Next(row, after, upTo)
	l.segments, l.longest = l.segments+1, max(l.longest, len(s.Cores))
	return s, err
}

func (l *looks) AdoptFrom(name string, list []signedlog.Segment, note storage.NoteOfHub) (storage.Adopted, error) {
	l.writes++
	return l.mate.AdoptFrom(name, list, note)
}

// 100,000 lines wait and go out to the hub beside an exam: an answer is stored between any two
// messages, and the exchange writes into the record only how far it came.
func TestAnswersAreStoredWhileLinesGoOut(t *testing.T) {
	lines := 10_000
	if os.Getenv("LOOSEBOX_LONG") != "" {
		lines = 100_000
	}
	_, l := open(t, "ann", "bea")
	ann := l[0]
	ann.share()
	require.NoError(t, ann.Fill(lines))
	v, err := ann.Begin(1)
	require.NoError(t, err)
	ann.share() // the opening and the horse too
	require.NoError(t, ann.Fill(lines))
	ann.hub.Later, ann.hub.Gently = true, true
	answers := 0
	counted := &looks{mate: ann, between: func() {
		require.NoError(t, ann.Answer(v, answers))
		answers++
	}}
	done, err := ann.hub.Exchange(t.Context(), counted)
	require.NoError(t, err)
	require.NoError(t, done.Unwritten)
	assert.GreaterOrEqual(t, done.Lines, lines)
	assert.Equal(t, answers, counted.segments)
	assert.LessOrEqual(t, counted.longest, signedlog.MaxRecords)
	assert.GreaterOrEqual(t, answers, lines/signedlog.MaxRecords)
	assert.LessOrEqual(t, counted.writes, 2, "however many messages went")
	ann.hub.Later, ann.hub.Gently = false, false
	ann.share()
	l[1].share()
	same(l...)
}
