package storage_test

import (
	"context"
	"fmt"
	"maps"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// laptops are records that write about the same horses and meet now and then: three, and
// the copies that somebody made of one with its key.
type laptops struct {
	records  []*storage.Record
	dirs     []string
	at       time.Time
	horses   []exam.HorseID
	visits   []exam.VisitID
	cautions []string
	held     map[exam.Hash][]exam.Hash // the lines of a visit that were there when a line was written
	joins    map[exam.Hash][2]exam.HorseID
	undone   map[exam.Hash]bool // joins that a parting named
	settings map[exam.Hash]bool // lines about a setting: whether none that held it was written since
}

// newLaptops are three empty records.
func newLaptops(t *testing.T, rt *rapid.T) *laptops {
	l := &laptops{at: day(), held: map[exam.Hash][]exam.Hash{}, joins: map[exam.Hash][2]exam.HorseID{}, undone: map[exam.Hash]bool{}, settings: map[exam.Hash]bool{}}
	for range 3 {
		dir := t.TempDir()
		r, err := storage.Open(dir, storage.Options{})
		require.NoError(rt, err)
		l.records, l.dirs = append(l.records, r), append(l.dirs, dir)
	}
	return l
}

func (l *laptops) close(t *rapid.T) {
	for _, r := range l.records {
		require.NoError(t, r.Close())
	}
}

func (l *laptops) now() time.Time {
	l.at = l.at.Add(time.Minute)
	return l.at
}

// give hands the logs of one record to another, whole or up to somewhere.
func (l *laptops) give(t *rapid.T, from, to, most int) {
	var parts []signedlog.Segment
	require.NoError(t, l.records[from].Segments(context.Background(), func(s signedlog.Segment) error {
		parts = append(parts, s)
		return nil
	}))
	done, err := l.records[to].Adopt(context.Background(), feed(parts[:min(most, len(parts))]))
	require.NoError(t, err)
	if most >= len(parts) {
		require.Empty(t, done.Aside)
	}
}

// copied makes one more laptop of the files of one, as a copied disk is.
func (l *laptops) copied(t *rapid.T, dir string, of int) {
	require.NoError(t, l.records[of].Close())
	require.NoError(t, os.CopyFS(dir, os.DirFS(l.dirs[of])))
	for i, d := range []string{l.dirs[of], dir} {
		r, err := storage.Open(d, storage.Options{})
		require.NoError(t, err)
		if i == 0 {
			l.records[of] = r
		} else {
			l.records, l.dirs = append(l.records, r), append(l.dirs, d)
		}
	}
}

func (l *laptops) act(t *rapid.T) {
	r := rapid.IntRange(0, len(l.records)-1).Draw(t, "laptop")
	s := l.records[r]
	e := exam.Entry{By: fmt.Sprint("Ann ", r), At: l.now()}
	switch rapid.SampledFrom([]string{"give", "give", "horse", "begin", "answer", "answer", "answer", "correct", "correct answer", "settle", "decide", "needle", "needle", "close", "round", "settings", "set", "set", "set", "set", "join", "join", "part"}).Draw(t, "act") {
	case "give":
		to := (r + rapid.IntRange(1, len(l.records)-1).Draw(t, "to")) % len(l.records)
		l.give(t, r, to, rapid.SampledFrom([]int{1, 2, 99}).Draw(t, "most"))
		return
	case "horse":
		h := exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Revision: 1}
		if known, err := s.Horses(); err == nil && len(known) > 0 && rapid.Bool().Draw(t, "again") {
			h = known[rapid.IntRange(0, len(known)-1).Draw(t, "which")].Horse
			h.Revision++
			h.Place, h.Cautions = fmt.Sprint("box ", r), append(h.Cautions, fmt.Sprint("kicks, says ", e.At.Format("15:04")))
			if rapid.Bool().Draw(t, "settles") {
				h.Settles = []string{"place"}
			}
			l.cautions = append(l.cautions, h.Cautions[len(h.Cautions)-1])
		}
		back, err := s.SaveHorse(h, e.By, e.At)
		require.NoError(t, err)
		l.horses = append(l.horses, back.ID)
		return
	case "begin":
		known, err := s.Horses()
		require.NoError(t, err)
		if len(known) == 0 {
			return
		}
		v, err := s.Begin(opened(known[0].Horse.ID, e.At))
		require.NoError(t, err)
		l.visits = append(l.visits, v.ID)
		return
	case "round":
		if known, err := s.Horses(); err == nil && len(known) > 0 {
			require.NoError(t, s.AddToRound(exam.RoundLine{Day: "2026-03-04", At: e.At, By: e.By, Horse: known[0].Horse.ID, Act: exam.RoundPicked}))
		}
		return
	case "join", "part":
		l.join(t, s, e)
		return
	case "set":
		l.set(t, s, e)
		return
	case "settings":
		require.NoError(t, s.SaveSettings(exam.Settings{Person: e.By}))
		return
	case "answer":
		e.Kind, e.Step = exam.EntryFinding, exam.StepID(fmt.Sprint("step.", rapid.IntRange(0, 3).Draw(t, "step")))
		e.Value = &exam.Value{Kind: exam.KindPick, Words: []string{fmt.Sprint("word ", r)}}
	case "close":
		e.Kind = exam.EntryClosed
	case "decide":
		e.Kind, e.Decision = exam.EntryDecision, &exam.Decision{
			Words: "go", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead,
			Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "Product A", Dose: "5 mL", Times: 9, HoursApart: 0.01}},
		}
	case "needle":
		e.Kind, e.Injection = exam.EntryInjection, &exam.InjectionLine{
			Phase: exam.InjectionGiven, VolumeML: 5, Afterwards: true,
			Order: &exam.Order{Product: "Product A", Dose: "5 mL", VolumeML: 5, Route: exam.RouteIM, Without: exam.OwnHands, Vet: "Dr Vale"},
		}
	case "correct answer", "settle":
		l.correct(t, s, e, r)
		return
	case "correct":
		e.Kind = exam.EntryNote
		e.Note = fmt.Sprint("again by ", r)
	}
	if len(l.visits) == 0 {
		return
	}
	e.Visit = rapid.SampledFrom(l.visits).Draw(t, "visit")
	v, err := s.Visit(e.Visit)
	if err != nil || v.Closed() && e.Kind != exam.EntryNote {
		return // it is not here yet, or takes no more
	}
	if e.Kind == exam.EntryNote && len(v.Notes) > 0 {
		e.Corrects = v.Notes[len(v.Notes)-1].Seq
	}
	if v.Closed() {
		if e.Corrects == 0 {
			return
		}
		e.Amend = &exam.Amendment{Why: "forgotten"}
	}
	l.append(t, s, e)
}

// join makes one horse of two, or takes a record out of those that are one; it remembers
// which lines did so.
func (l *laptops) join(t *rapid.T, s *storage.Record, e exam.Entry) {
	known, err := s.Horses()
	require.NoError(t, err)
	j := exam.Joining{By: e.By, At: e.At}
	var records []exam.HorseID
	for _, f := range known {
		for _, r := range f.Horse.Records() {
			records = append(records, r.ID)
		}
	}
	if len(records) < 2 {
		return
	}
	pick := func(label string) exam.HorseID { return rapid.SampledFrom(records).Draw(t, label) }
	j.Horses = []exam.HorseID{pick("one"), pick("other")}
	one, err := s.Horse(j.Horses[0])
	require.NoError(t, err)
	j.Apart = one.Is(j.Horses[1])
	if j.Horses[0] == j.Horses[1] {
		return
	}
	before, err := s.Joinings()
	require.NoError(t, err)
	require.NoError(t, s.Join(j))
	after, err := s.Joinings()
	require.NoError(t, err)
	require.Len(t, after, len(before)+1)
	line := after[len(after)-1]
	if !j.Apart {
		l.joins[line.Line] = [2]exam.HorseID(line.Horses)
		return
	}
	for _, b := range before { // all that this laptop holds and that join the first
		if !b.Apart && slices.Contains(b.Horses, j.Horses[0]) {
			l.undone[b.Line] = true
		}
	}
}

// checkJoined sets the groups of a record beside those that are reached over the joins
// which no parting named.
func (l *laptops) checkJoined(t *rapid.T, s *storage.Record) {
	for _, from := range l.horses {
		reached := map[exam.HorseID]bool{from: true}
		for range l.horses {
			for line, j := range l.joins {
				if !l.undone[line] && (reached[j[0]] || reached[j[1]]) {
					reached[j[0]], reached[j[1]] = true, true
				}
			}
		}
		want := slices.Sorted(maps.Keys(reached))
		h, err := s.Horse(from)
		require.NoError(t, err)
		require.Equal(t, want[0], h.ID, "the smallest leads")
		var got []exam.HorseID
		for _, r := range h.Records() {
			got = append(got, r.ID)
		}
		require.Equal(t, want, got)
		past, err := s.Past(from, 0)
		require.NoError(t, err)
		outline, err := s.Outline(from, time.Time{})
		require.NoError(t, err)
		require.Len(t, outline, len(past))
		for _, v := range past {
			require.Equal(t, want[0], v.Horse.ID)
		}
	}
}

// set sets something for the practice, and remembers which lines that took the place of: all
// that this laptop held.
func (l *laptops) set(t *rapid.T, s *storage.Record, e exam.Entry) {
	stands := func(key exam.SettingKey) map[exam.Hash]bool {
		out := map[exam.Hash]bool{}
		states, err := s.PracticeSettings()
		require.NoError(t, err)
		for _, state := range states {
			for _, h := range state.Lines() {
				out[h] = state.Key == key
			}
		}
		return out
	}
	key := rapid.SampledFrom([]exam.SettingKey{exam.SettingSiteML, "routines/own.yaml"}).Draw(t, "key")
	value, err := key.Read(rapid.SampledFrom([]string{"5", "7.5", "9", ""}).Draw(t, "value"))
	require.NoError(t, err)
	before := stands(key)
	require.NoError(t, s.SaveSetting(exam.Setting{Key: key, Value: value, By: e.By, At: e.At}))
	wrote := false
	for h, own := range stands(key) {
		if own && !before[h] {
			l.settings[h], wrote = true, true
		}
	}
	for h, own := range before {
		l.settings[h] = l.settings[h] && !(own && wrote)
	}
}

// checkSettings sets what stands of the practice's settings beside the lines that no writer
// who held them replaced.
func (l *laptops) checkSettings(t *rapid.T, s *storage.Record) {
	states, err := s.PracticeSettings()
	require.NoError(t, err)
	got := map[exam.Hash]bool{}
	for _, state := range states {
		for _, h := range state.Lines() {
			got[h] = true
		}
	}
	for h, stands := range l.settings {
		require.Equal(t, stands, got[h], "line %s", h)
	}
}

// append writes a line and remembers which others were there.
func (l *laptops) append(t *rapid.T, s *storage.Record, e exam.Entry) {
	before, err := s.Entries(e.Visit)
	require.NoError(t, err)
	back, err := s.Append(e)
	require.NoError(t, err)
	for _, b := range before {
		l.held[back.Hash] = append(l.held[back.Hash], b.Hash)
	}
}

// correct puts another answer in the place of one, or of all that stand at its place.
func (l *laptops) correct(t *rapid.T, s *storage.Record, e exam.Entry, r int) {
	if len(l.visits) == 0 {
		return
	}
	e.Visit = rapid.SampledFrom(l.visits).Draw(t, "visit")
	v, err := s.Visit(e.Visit)
	if err != nil || len(v.Findings) == 0 {
		return
	}
	f := rapid.SampledFrom(v.Findings).Draw(t, "finding")
	e.Kind, e.Step, e.Amend = exam.EntryFinding, f.Step, &exam.Amendment{Why: "looked again"}
	e.Value = &exam.Value{Kind: exam.KindPick, Words: []string{fmt.Sprint("seen again by ", r)}}
	if e.Replace(f); rapid.Bool().Draw(t, "one alone") {
		e.Settles = nil
	}
	l.append(t, s, e)
	v, err = s.Visit(e.Visit)
	require.NoError(t, err)
	now, ok := v.Finding(f.Key())
	require.True(t, ok)
	require.Len(t, now.Differ, len(f.Differ)-len(e.Settles), "what was not named still stands")
}

// Three laptops write lines of every kind and meet at random, whole or in part. When each
// has everything of the others, horses, visits and rounds are the same on all three, every
// line is there, and what is derived fits. So it is where one of them was copied with its
// key and both went on: a log has branches then.
func TestThreeLaptopsComeTogether(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := newLaptops(t, rt)
		defer l.close(rt)
		copies := rapid.SampledFrom([]int{0, 1, 2}).Draw(rt, "copies")
		for range rapid.IntRange(5, 40).Draw(rt, "acts") {
			if copies > 0 && rapid.IntRange(0, 7).Draw(rt, "copy") == 0 {
				copies--
				l.copied(rt, t.TempDir(), rapid.IntRange(0, len(l.records)-1).Draw(rt, "of"))
			}
			l.act(rt)
		}
		for range 3 {
			for from := range l.records {
				for to := range l.records {
					if from != to {
						l.give(rt, from, to, 1<<20)
					}
				}
			}
		}
		l.checkUnseen(rt)
		var want string
		for i, r := range l.records {
			report, err := r.Check(context.Background())
			require.NoError(rt, err)
			require.True(rt, report.OK, "%v", report.Broken)
			require.Zero(rt, report.Waiting)
			got := everythingOf(rt, r, l)
			if i == 0 {
				want = got
			}
			require.Equal(rt, want, got, "laptop %d", i)
			l.checkJoined(rt, r)
			l.checkSettings(rt, r)
			_, _, err = r.Rebuild(context.Background())
			require.NoError(rt, err)
			require.Equal(rt, want, everythingOf(rt, r, l), "rebuilt")
			require.Equal(rt, len(slices.Compact(slices.Sorted(slices.Values(l.visits)))), report.Visits, "no visit is lost")
		}
	})
}

// checkUnseen sets what the record says that a writer did not hold beside what was there
// when the line was written.
func (l *laptops) checkUnseen(t *rapid.T) {
	for _, id := range l.visits {
		entries, err := l.records[0].Entries(id)
		require.NoError(t, err)
		for i, e := range entries {
			held, ok := l.held[e.Hash]
			if !ok {
				continue // an opening
			}
			var want []int
			for _, before := range entries[:i] {
				if !slices.Contains(held, before.Hash) {
					want = append(want, before.Seq)
				}
			}
			require.Equal(t, want, e.Unseen, "entry %d of visit %s", e.Seq, id)
		}
	}
}

// everythingOf is what a record says of horses, visits and rounds, in one text.
func everythingOf(t *rapid.T, r *storage.Record, l *laptops) string {
	horses, err := r.Horses()
	require.NoError(t, err)
	var cautions []string
	for i, h := range horses {
		horses[i].Stamp = 0 // each record's own
		cautions = append(cautions, h.Horse.Cautions...)
	}
	slices.Sort(cautions) // what was said of two that were parted again stays with both
	require.ElementsMatch(t, l.cautions, slices.Compact(cautions), "no caution is lost")
	text := fmt.Sprintf("%+v\n", horses)
	for _, id := range l.visits {
		entries, err := r.Entries(id)
		require.NoError(t, err)
		for _, e := range entries {
			text += fmt.Sprintf("%d %s corrects %d\n", e.Seq, e.Hash, e.Corrects)
		}
		v, err := r.Visit(id)
		require.NoError(t, err)
		text += fmt.Sprintf("%+v\n%+v\n%+v\n%+v\n", v.Findings, v.Decisions, v.Injections, v.Unsettled())
	}
	lines, err := r.RoundLines("", "2027-01-01")
	require.NoError(t, err)
	set, err := r.Settings()
	require.NoError(t, err)
	states, err := r.PracticeSettings()
	require.NoError(t, err)
	for _, state := range states {
		for _, one := range state.Said {
			text += fmt.Sprintf("%s %q by %s, %s\n", one.Key, one.Value, one.By, one.Line)
		}
	}
	return text + fmt.Sprintf("%+v\n%+v", set.Common, lines)
}
