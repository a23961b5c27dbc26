package progress_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/judge"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func reader(t testing.TB) progress.Reader {
	t.Helper()
	held, err := ranges.BuiltIn()
	require.NoError(t, err)
	table := steps.Table()
	cases, err := rehearse.Cases(table, held)
	require.NoError(t, err)
	return progress.Reader{Cases: cases, Routines: steps.Routines(), Steps: table, Ranges: held, Judge: judge.New(held, table)}
}

func noon() time.Time { return time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC) }

// keep plays a rehearsal and stores it.
func keep(t testing.TB, r progress.Reader, s exam.Store, name string, seed uint64, at time.Time, who rehearse.Trainee) exam.VisitID {
	t.Helper()
	c, ok := rehearse.CaseNamed(r.Cases, name)
	require.True(t, ok)
	h, err := rehearse.New(c, seed, at, r.Steps, r.Ranges)
	require.NoError(t, err)
	routine, ok := steps.Find(r.Routines, c.Routine)
	require.True(t, ok)
	entries, err := who.Rehearse(h, routine)
	require.NoError(t, err)
	animal, err := s.SaveHorse(h.Animal, who.By, at)
	require.NoError(t, err)
	entries[0].Opening.Horse = animal
	v, err := s.Begin(entries[0])
	require.NoError(t, err)
	for _, e := range entries[1:] {
		e.Visit = v.ID
		_, err := s.Append(e)
		require.NoError(t, err)
	}
	return v.ID
}

func slipping(n int) rehearse.Slips {
	s := rehearse.Slips{}
	if n > 0 {
		s.Skip = "gum.moisture"
	}
	if n > 1 {
		s.Moved = "temp.rectal"
	}
	if n > 2 {
		s.TapFactor = 1.05
	}
	if n > 3 {
		s.Side, s.Unsafe = exam.Key{Step: "limb.warmth", Site: exam.RightHind}, "limbs"
	}
	return s
}

// Two people: one who gets better over five rehearsals and left one unfinished, one who makes no mistake.
func twoPeople(t testing.TB, r progress.Reader) *examtest.Store {
	t.Helper()
	s := examtest.NewRehearsals()
	for i := range 5 {
		by := []string{"Ivo Marsh", "ivo marsh", "Ivo  Marsh"}[i%3]
		keep(t, r, s, "dapple", uint64(i), noon().AddDate(0, 0, i), rehearse.Trainee{By: by, To: "Dr. Olga Sommer", Slips: slipping(4 - i), Pace: 2 - 0.2*float64(i)})
	}
	keep(t, r, s, "tarn", 9, noon().AddDate(0, 0, 7), rehearse.Trainee{By: "Ivo Marsh", Slips: rehearse.Slips{Unfinished: 4}})
	keep(t, r, s, "tarn", 9, noon().AddDate(0, 0, 1), rehearse.Trainee{By: "Ada Poole", To: "Dr. Olga Sommer"})
	return s
}

func TestWhatIsFollowedComesFromTheEntries(t *testing.T) {
	r := reader(t)
	points, not, err := r.Read(twoPeople(t, r))
	require.NoError(t, err)
	assert.Empty(t, not)
	people := progress.People(points)
	require.Len(t, people, 2)
	ada, ivo := people[0], people[1]
	assert.Equal(t, "Ada Poole", ada.Name)
	require.Len(t, ada.Points, 1)
	assert.Empty(t, ada.Points[0].Faults)
	assert.Equal(t, ada.Points[0].Findings, ada.Points[0].Right)
	assert.InDelta(t, 1, *ada.Points[0].Tau, 0)
	assert.InDelta(t, 0.04, *ada.Points[0].ScatterS, 0.015)

	assert.True(t, ivo.Is("IVO marsh"))
	require.Len(t, ivo.Points, 6)
	assert.False(t, ivo.Points[0].Finished, "the newest first")
	require.Len(t, ivo.Finished(), 5)
	worst, best := ivo.Points[5], ivo.Points[1]
	assert.Equal(t, []int{1, 1, 1, 1}, []int{worst.Missed, worst.Sides, worst.OutOfOrder, worst.Safety})
	assert.Positive(t, worst.Edits)
	assert.Less(t, *worst.Tau, 1.0)
	assert.Greater(t, *worst.HeartErrorPerMin, 1.0)
	require.NotNil(t, worst.HandedOff)
	assert.True(t, *worst.HandedOff)
	assert.Equal(t, []int{0, 0, 0, 0}, []int{best.Missed, best.Sides, best.OutOfOrder, best.Safety})
	assert.Empty(t, best.Faults)

	missed := measure(t, "missed")
	assert.Equal(t, progress.NoClear, ivo.Trend(missed).Direction, "2 1 1 1 0: one of twenty orders falls like this")
	assert.InDelta(t, 0.05, *ivo.Trend(missed).P, 1e-12)
	pace := measure(t, "a step")
	assert.Equal(t, progress.Better, ivo.Trend(pace).Direction)
	assert.Equal(t, progress.TooFew, ada.Trend(missed).Direction)
	usual, ok := ivo.Usual(missed)
	assert.True(t, ok)
	assert.InDelta(t, 1, usual, 0)

	weak := ivo.Weak(10)
	require.NotEmpty(t, weak)
	assert.Equal(t, progress.Weak{What: "gum moisture: left out", Times: 4, Of: 5}, weak[0])
	assert.Contains(t, weak, progress.Weak{What: "heart rate: the count was off", Times: 2, Of: 5})
	assert.Len(t, ivo.Weak(1), 1)
	assert.Empty(t, ada.Weak(10))
	assert.Empty(t, ivo.With("colic-check").Finished())
	assert.Len(t, ivo.With("colic-check").Points, 1)
	assert.Len(t, ivo.With("").Points, 6)
}

func TestEveryMeasureIsOne(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range progress.Measures() {
		assert.False(t, seen[m.Name])
		seen[m.Name] = true
		assert.LessOrEqual(t, len(m.Name), 7, "a column's head")
		assert.NotEmpty(t, m.About)
		_, ok := m.Of(progress.Rehearsal{})
		text := m.Text(1.25)
		assert.NotEmpty(t, text)
		assert.Equal(t, ok, m.Name == "missed" || m.Name == "safety", "%s of nothing", m.Name)
	}
}

func measure(t *testing.T, name string) progress.Measure {
	t.Helper()
	all := progress.Measures()
	at := slices.IndexFunc(all, func(m progress.Measure) bool { return m.Name == name })
	require.GreaterOrEqual(t, at, 0, name)
	return all[at]
}

func TestARehearsalWhoseCaseChangedIsListedAsThat(t *testing.T) {
	r := reader(t)
	s := twoPeople(t, r)
	for i := range r.Cases {
		if r.Cases[i].Name == "tarn" {
			r.Cases[i].Digest = "ffffffffffff"
		}
	}
	points, not, err := r.Read(s)
	require.NoError(t, err)
	assert.Len(t, points, 5)
	require.Len(t, not, 2)
	assert.Contains(t, not[0].Why, "was changed after this rehearsal")
	assert.Equal(t, "Ivo Marsh", not[0].By)

	r.Cases, r.Routines = nil, nil
	_, not, err = r.Read(s)
	require.NoError(t, err)
	require.Len(t, not, 7)
	assert.Contains(t, not[0].Why, "is not there any more")
	r = reader(t)
	r.Routines = nil
	_, not, err = r.Read(s)
	require.NoError(t, err)
	assert.Contains(t, not[0].Why, `the routine "colic-check"`)

	s.FailWith(errors.New("the disk is gone"))
	_, _, err = r.Read(s)
	require.ErrorContains(t, err, "the disk is gone")
}

func TestAVisitThatIsNoRehearsalIsNotMarked(t *testing.T) {
	s := examtest.NewStore()
	h, err := s.SaveHorse(exam.Horse{Name: "Bracken", Revision: 1, Kind: exam.AnimalHorse}, "Ann", noon())
	require.NoError(t, err)
	_, err = s.Begin(exam.Entry{Kind: exam.EntryOpened, At: noon(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
	require.NoError(t, err)
	_, not, err := reader(t).Read(s)
	require.NoError(t, err)
	require.Len(t, not, 1)
	assert.Contains(t, not[0].Why, "no rehearsal")
}

// RFC 4180: a head line, CR LF after every line, as many cells in each, a cell with a comma or a quote in quotes; and no
// text that a spreadsheet reckons with (OWASP, "CSV Injection": = + - @ and tab).
func TestCSV(t *testing.T) {
	r := reader(t)
	points, _, err := r.Read(twoPeople(t, r))
	require.NoError(t, err)
	for i, name := range []string{`=HYPERLINK("http://x","y")`, "+1", "-Ann", "@Ann", "\t=1+1", "Bell, \"Ann\"\r\n=2", "\x1b[2J=1"} {
		points[i%len(points)].By = name
	}
	var b bytes.Buffer
	require.NoError(t, progress.WriteCSV(&b, progress.People(points)))
	text := b.String()
	assert.Equal(t, strings.Count(text, "\r\n"), strings.Count(text, "\n"))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 8)
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	for _, row := range rows[1:] {
		for _, name := range []string{"person", "case", "title", "routine"} {
			require.NotEmpty(t, row[at[name]])
			assert.NotContains(t, "=+-@\t\r\x1b", row[at[name]][:1], name)
		}
		_, err := time.Parse(time.RFC3339, row[at["at"]])
		require.NoError(t, err)
		assert.Contains(t, []string{"true", "false"}, row[at["finished"]])
	}
	assert.Contains(t, text, `"'=HYPERLINK(""http://x"",""y"")"`)
	negative := false
	for _, row := range rows[1:] {
		negative = negative || strings.HasPrefix(row[at["heart_error_per_min"]], "-") || strings.HasPrefix(row[at["tap_bias_ms"]], "-")
	}
	assert.True(t, negative, "a number keeps its sign")
}

func TestDocument(t *testing.T) {
	r := reader(t)
	points, not, err := r.Read(twoPeople(t, r))
	require.NoError(t, err)
	data, err := json.Marshal(progress.NewDocument(progress.People(points), not))
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(data), `{"schema":"loosebox/rehearsals/1","people":[{"name":"Ada Poole","rehearsals":[{`))
	var back struct {
		People []struct {
			Measures []struct {
				Name  string
				Trend struct{ Direction string }
			}
			Again []progress.Weak
		}
		NotMarked []any `json:"not_marked"`
	}
	require.NoError(t, json.Unmarshal(data, &back))
	require.Len(t, back.People, 2)
	assert.Len(t, back.People[1].Measures, len(progress.Measures()))
	assert.Equal(t, "a step", back.People[1].Measures[2].Name)
	assert.Equal(t, "getting better", back.People[1].Measures[2].Trend.Direction)
	assert.NotNil(t, back.NotMarked)
	assert.NotContains(t, string(data), "Faults")
	empty, err := json.Marshal(progress.NewDocument(nil, nil))
	require.NoError(t, err)
	assert.JSONEq(t, `{"schema":"loosebox/rehearsals/1","people":[],"not_marked":[]}`, string(empty))
}

func BenchmarkRead(b *testing.B) {
	r := reader(b)
	s := twoPeople(b, r)
	for b.Loop() {
		if _, _, err := r.Read(s); err != nil {
			b.Fatal(err)
		}
	}
}
