package storage_test

import (
	"bytes"
	"context"
	"crypto/ed25519"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// Whoever is let in, is out or was in earlier up to a line: what the record says then is what
// it says when everything is made again from the lines, and the check finds nothing.
func TestWhatCountsFollowsTheRoster(t *testing.T) {
	clinic := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{7}, ed25519.SeedSize))
	public, _ := clinic.Public().(ed25519.PublicKey)
	rapid.Check(t, func(rt *rapid.T) {
		l := newLaptops(t, rt)
		defer l.close(rt)
		h, err := l.records[0].SaveHorse(exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Revision: 1}, "Ann", l.now())
		require.NoError(rt, err)
		l.horses = append(l.horses, h.ID)
		for to := 1; to < len(l.records); to++ {
			l.give(rt, 0, to, 1<<20)
		}
		for range rapid.IntRange(5, 40).Draw(rt, "acts") {
			l.act(rt)
		}
		if rapid.Bool().Draw(rt, "a copied disk") {
			l.copied(rt, t.TempDir(), 1)
			for range rapid.IntRange(1, 15).Draw(rt, "more acts") {
				l.act(rt)
			}
		}
		for from := 1; from < len(l.records); from++ {
			l.give(rt, from, 0, 1<<20)
		}
		r := l.records[0]
		for n := range rapid.IntRange(1, 5).Draw(rt, "statements") {
			of := l.records[rapid.IntRange(1, 2).Draw(rt, "of")]
			s := roster.Statement{
				Practice: roster.Practice{Name: "Hollow Farm Vets", Key: public}, At: day().Add(time.Duration(n) * time.Hour),
				Key: of.Key(), Name: "Barn", Out: rapid.Bool().Draw(rt, "out"),
			}
			if s.Out || rapid.Bool().Draw(rt, "earlier") {
				reach, err := r.Reach(s.Key)
				require.NoError(rt, err)
				s.Until = map[signedlog.ID]uint64{}
				for log, upTo := range reach {
					if n := rapid.Uint64Range(0, upTo).Draw(rt, "until"); n > 0 {
						s.Until[log] = n
					}
				}
			}
			s, err := roster.Say(clinic, s)
			require.NoError(rt, err)
			_, err = r.TakeStatements(context.Background(), []roster.Statement{s})
			require.NoError(rt, err)
			report, err := r.Check(context.Background())
			require.NoError(rt, err)
			require.True(rt, report.OK, "%v", report.Broken)
			got := listedIn(rt, r, l)
			_, _, err = r.Rebuild(context.Background())
			require.NoError(rt, err)
			require.Equal(rt, listedIn(rt, r, l), got)
		}
	})
}

// listedIn is what a record lists, and what it says of each thing that it may list.
func listedIn(t *rapid.T, r *storage.Record, l *laptops) string {
	horses, err := r.Horses()
	require.NoError(t, err)
	for i := range horses {
		horses[i].Stamp = 0 // each change has its own
	}
	text := fmt.Sprintf("%+v\n", horses)
	say := func(what any, err error) { text += fmt.Sprintf("%+v %v\n", what, err) }
	for _, h := range l.horses {
		outline, err := r.Outline(h, time.Time{})
		say(outline, err)
	}
	for _, id := range l.visits {
		v, err := r.Visit(id)
		say(v, err)
	}
	recent, err := r.Recent(0)
	say(recent, err)
	lines, err := r.RoundLines("", "2027-01-01")
	say(lines, err)
	states, err := r.PracticeSettings()
	say(states, err)
	joins, err := r.Joinings()
	say(joins, err)
	return text
}

// A visit of a horse whose lines do not count waits for it, and is back when they do.
func TestAVisitWaitsForAHorseThatDoesNotCount(t *testing.T) {
	clinic := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{7}, ed25519.SeedSize))
	public, _ := clinic.Public().(ed25519.PublicKey)
	rapid.Check(t, func(rt *rapid.T) {
		l := newLaptops(t, rt)
		defer l.close(rt)
		r, other := l.records[0], l.records[1]
		h, err := other.SaveHorse(exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Revision: 1}, "Bea", l.now())
		require.NoError(rt, err)
		l.give(rt, 1, 0, 1<<20)
		v, err := r.Begin(opened(h.ID, l.now()))
		require.NoError(rt, err)
		if rapid.Bool().Draw(rt, "closed") {
			_, err = r.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, By: "Ann", At: l.now()})
			require.NoError(rt, err)
		}
		l.horses, l.visits = []exam.HorseID{h.ID}, []exam.VisitID{v.ID}
		for n, until := range []map[signedlog.ID]uint64{{{1}: 1}, nil} { // a log that is not here, then all
			s, err := roster.Say(clinic, roster.Statement{
				Practice: roster.Practice{Name: "Hollow Farm Vets", Key: public}, At: day().Add(time.Duration(n) * time.Hour),
				Key: other.Key(), Name: "Barn", Until: until,
			})
			require.NoError(rt, err)
			_, err = r.TakeStatements(context.Background(), []roster.Statement{s})
			require.NoError(rt, err)
			report, err := r.Check(context.Background())
			require.NoError(rt, err)
			require.True(rt, report.OK, "%v", report.Broken)
			recent, err := r.Recent(0)
			require.NoError(rt, err)
			if until != nil {
				require.Equal(rt, 1, report.Waiting)
				require.Empty(rt, recent)
			} else {
				require.Len(rt, recent, 1)
			}
			got := listedIn(rt, r, l)
			_, _, err = r.Rebuild(context.Background())
			require.NoError(rt, err)
			require.Equal(rt, listedIn(rt, r, l), got)
		}
	})
}
