package export_test

import (
	"bytes"
	"crypto/ed25519"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/export"
	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
	"loosebox/exam/steps"
)

const hostile = "=HYPERLINK(\"http://x\"),\r\n\"quoted\" +1 @cmd \u202e \x00 é 日本"

func at() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 123, time.FixedZone("", 3600)) }

func entries() []exam.Entry {
	list := []exam.Entry{
		{Kind: exam.EntryOpened, Opening: &exam.Opening{Routine: "full-exam", Reason: hostile, Horse: exam.Horse{
			ID: "01a2135c-3ebf-762a-99f8-c40a7684cd51", Revision: 1, Name: hostile, Kind: exam.AnimalHorse, Owner: "Secret Owner", OwnerAddress: "Secret Street",
			OwnerPhone: "Secret Phone", Place: "Secret Place", Chip: "001164000123456", UELN: "Secret UELN", Markings: "Secret star", Colour: "Secret bay",
			Cautions: []string{"Secret caution"}, Reactions: []string{"Secret reaction"}, Birth: exam.Birth{At: at().AddDate(-9, 0, 0), Precision: exam.BornDay, Basis: "Secret papers"},
		}}},
		{Kind: exam.EntryContext, Context: &exam.Context{States: []exam.State{exam.StateRest}, Note: "Secret context"}},
		{Kind: exam.EntryFinding, Step: "temp.rectal", Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: -38.25, Unit: notation.Celsius}, Typed: "Secret typed"}, Note: "Secret note"},
		{Kind: exam.EntryNotDone, Step: "note", Reason: "Secret reason"},
		{Kind: exam.EntryNote, Note: "Secret words"},
		{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Secret Vet", Asked: "Secret question", How: exam.ByTelephone}},
		{Kind: exam.EntryDecision, Decision: &exam.Decision{Words: "Secret words", Vet: "Secret Vet", How: exam.ByTelephone, Ruling: exam.GoAhead}},
		{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
			Number: 1, Phase: exam.InjectionReady, SignWords: "Secret sign", Why: "Secret why", Disposal: "Secret box", Basis: "Secret basis",
			Place: exam.NeedlePlace{Site: "neck triangle", Words: "Secret spot"}, Checks: []exam.Checked{{Key: "horse", OK: true, Words: "Secret chip"}},
			Order: &exam.Order{Product: "Vaccine R", Lot: "Secret lot", Maker: "Secret maker", SupervisedBy: "Secret Vet", Witness: "Secret Bo", TagNumber: "Secret tag", Certificate: "Secret certificate", VolumeFrom: "Secret", WeightFrom: "Secret"},
		}},
		{Kind: exam.EntryDraw, Draw: &exam.DrawLine{
			Number: 1, Phase: exam.DrawReady, SignWords: "Secret sign", Why: "Secret why", Tube: &exam.Tube{Kind: "EDTA", Label: "Secret label"},
			Order: &exam.DrawOrder{For: "Secret test", VetDraws: "Secret Vet", Tubes: []exam.Tube{{Kind: "EDTA", Label: "Secret label"}}},
		}},
		{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, SignWords: "Secret sign", Why: "Secret why"}},
		{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-31", What: "Secret recheck"}, Note: "Secret"},
		{Kind: exam.EntryClosed},
	}
	for i := range list {
		list[i].Visit, list[i].Seq, list[i].By, list[i].At = "01a2135c-3ebf-762a-99f8-c40a7684cd50", i+1, "Secret Person", at().Add(time.Duration(i)*time.Minute)
		if i > 0 {
			list[i].Prev = list[i-1].Hash
		}
		if err := exam.Seal(&list[i]); err != nil {
			panic(err)
		}
	}
	return list
}

// key is a key of the test, from a seed of zeros.
func key() ed25519.PrivateKey { return ed25519.NewKeyFromSeed(make([]byte, ed25519.SeedSize)) }

// segments is a log of a horse, a visit, a line of a round and settings, in two segments.
func segments(t testing.TB) []signedlog.Segment {
	t.Helper()
	var out []signedlog.Segment
	b := signedlog.NewBuilder(key(), signedlog.Nonce{7}, func(s signedlog.Segment) error { out = append(out, s); return nil })
	list := entries()
	add := func(kind exam.LineKind, what any) {
		body, err := exam.LineBody(kind, what)
		require.NoError(t, err)
		_, err = b.Add(body)
		require.NoError(t, err)
	}
	add(exam.LineHorse, exam.HorseLine{Horse: list[0].Opening.Horse, By: hostile, At: at()})
	for _, e := range list {
		add(exam.LineEntry, e)
	}
	require.NoError(t, b.Close())
	add(exam.LineRound, exam.RoundLine{Day: "2026-03-04", At: at(), By: "Ann", Horse: list[0].Opening.Horse.ID, Act: exam.RoundPicked, Words: hostile})
	add(exam.LineSettings, exam.Settings{Person: hostile})
	require.NoError(t, b.Close())
	return out
}

func written(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	sink, err := export.NewJSON(&b, false)
	require.NoError(t, err)
	for _, s := range segments(t) {
		require.NoError(t, sink.Segment(s))
	}
	require.NoError(t, sink.Close())
	return b.Bytes()
}

func read(b []byte) ([]signedlog.Segment, error) {
	var got []signedlog.Segment
	err := export.Read(bytes.NewReader(b), "file", func(export.Header) error { return nil }, func(s signedlog.Segment) error {
		got = append(got, s)
		return nil
	})
	return got, err
}

// What goes out comes back byte for byte, whatever the texts hold, and its signatures hold.
func TestAnExportBringsEveryRecordBack(t *testing.T) {
	got, err := read(written(t))
	require.NoError(t, err)
	assert.Equal(t, segments(t), got)
	for _, s := range got {
		_, err := s.Verify()
		require.NoError(t, err)
	}
}

// An editor puts a byte order mark before the first line, and other ends behind each.
func TestAnExportThatAnEditorSaved(t *testing.T) {
	text := bytes.ReplaceAll(written(t), []byte("\n"), []byte("\r\n"))
	got, err := read(append([]byte("\ufeff"), text...))
	require.NoError(t, err)
	assert.Equal(t, segments(t), got)
}

// An endless line ends the reading.
func TestAnEndlessLineEnds(t *testing.T) {
	err := export.Read(io.MultiReader(bytes.NewReader(written(t)[:60]), endless{}), "file", func(export.Header) error { return nil }, func(signedlog.Segment) error { return nil })
	require.ErrorContains(t, err, "a line of more than 4 MB")
}

type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

// A stream that ends early is said to be cut wherever it ends, and never with a panic.
func TestACutStreamIsRefused(t *testing.T) {
	whole := written(t)
	for n := 0; n < len(bytes.TrimRight(whole, "\r\n")); n += 7 {
		_, err := read(whole[:n])
		require.ErrorContains(t, err, "file, line", "cut at %d of %d", n, len(whole))
	}
}

// What comes before a line that is wrong is handed on, and the error names that line; so is
// what comes behind a record that cannot be read.
func TestAWrongLineIsNamedAndTheRestIsHandedOn(t *testing.T) {
	lines := bytes.SplitAfter(bytes.TrimSpace(written(t)), []byte("\n"))
	all := len(segments(t))
	long := []byte(strings.Repeat("x", 9<<20) + "\n")
	for _, c := range []struct {
		what, says string
		at, got    int
		lines      [][]byte
	}{
		{"behind the end", "something follows the end", len(lines) + 1, all, append(slices.Clone(lines), []byte("\n{}\n"))},
		{"a record", "a line cannot be read", 3, all, slices.Concat(lines[:2], [][]byte{[]byte("\xff{\n")}, lines[3:])},
		{"a long one for a record", "a line of more than 4 MB", 3, all, slices.Concat(lines[:2], [][]byte{long}, lines[3:])},
		{"a long one for the first of a part", "a line of more than 4 MB", 2, all - 1, slices.Concat(lines[:1], [][]byte{long}, lines[2:])},
		{"a long one for the end", "the end of the export is missing", len(lines), all, slices.Concat(lines[:len(lines)-1], [][]byte{long[:len(long)-1]})},
		{"its kind", `not "xx`, 3, all, slices.Concat(lines[:2], [][]byte{bytes.Replace(lines[2], []byte(`"line":"`), []byte(`"line":"xx`), 1)}, lines[3:])},
		{"the first line of a part", "has no records", 2, all - 1, slices.Concat(lines[:1], [][]byte{bytes.Replace(lines[1], []byte(`"first":1`), []byte(`"first":0`), 1)}, lines[2:])},
	} {
		got, err := read(bytes.Join(c.lines, nil))
		require.ErrorContains(t, err, fmt.Sprintf("file, line %d: ", c.at), c.what)
		require.ErrorContains(t, err, c.says)
		assert.Len(t, got, c.got, c.what)
	}
	err := export.Read(bytes.NewReader(written(t)), "file", func(export.Header) error { return nil }, func(signedlog.Segment) error { return assert.AnError })
	require.ErrorIs(t, err, assert.AnError)
}

// Whatever one byte of a stream becomes: it is refused, or the signature shows it, or it is
// in what only readers look at.
func TestAChangedByteShows(t *testing.T) {
	whole := written(t)
	want := segments(t)
	for n := 0; n < len(whole); n += 11 {
		changed := bytes.Clone(whole)
		changed[n] ^= 1
		got, err := read(changed)
		if err != nil {
			continue
		}
		for i, s := range got {
			if _, err := s.Verify(); err == nil {
				s.Rehearsals = false // not signed for: the bodies say it
				assert.Equal(t, want[i], s, "byte %d", n)
			}
		}
	}
}

func sheet(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	sink, err := export.NewCSV(&b, steps.Table())
	require.NoError(t, err)
	list := entries()
	require.NoError(t, sink.Horse(exam.HorseLine{Horse: list[0].Opening.Horse, By: hostile, At: at()}))
	require.NoError(t, sink.Visit(list))
	require.NoError(t, sink.Round(exam.RoundLine{Day: "2026-03-04", Seq: 1, At: at(), By: "Ann", Horse: list[0].Opening.Horse.ID, Act: exam.RoundPicked, Words: hostile}))
	require.NoError(t, sink.Close())
	return b.Bytes()
}

// RFC 4180: a field with a comma, a quote or a line break is quoted, quotes are
// doubled, lines end in CRLF. OWASP, CSV injection: text that a spreadsheet takes
// for a formula is defused; a number that is below zero stays a number.
func TestCSVIsSafeInASpreadsheet(t *testing.T) {
	b := sheet(t)
	assert.NotContains(t, strings.ReplaceAll(string(b), "\r\n", ""), "\n")
	all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	require.NoError(t, err)
	column := map[string]int{}
	for i, name := range all[0] {
		column[name] = i
	}
	amounts := 0
	for _, cells := range all[1:] {
		for i, cell := range cells {
			if i == column["amount"] && cell != "" {
				assert.Equal(t, "-38.25", cell)
				amounts++
				continue
			}
			if cell != "" {
				assert.NotContains(t, "=+-@\t\r", cell[:1], "column %d", i)
			}
		}
	}
	assert.Equal(t, 1, amounts)
	for text, want := range map[string]string{"": "", "Bracken": "Bracken", "=1": "'=1", "+1": "'+1", "-1": "'-1", "@x": "'@x", "\tx": "'\tx", "\rx": "'\rx"} {
		assert.Equal(t, want, export.Defuse(text))
	}
}

func teach(t *testing.T) (exam.HorseLine, []exam.Entry) {
	t.Helper()
	n := 0
	tt := &export.Teaching{Shift: func() int { return -100 }, NewID: func() string { n++; return fmt.Sprintf("00000000-0000-4000-8000-%012d", n) }}
	h, visits := tt.Copy([][]exam.Entry{entries()})
	require.Len(t, visits, 1)
	return h, visits[0]
}

// Every text of the sample that was typed freely or says who it was begins with
// "Secret" or is the hostile name; none is left, nor any identity of the lines.
func TestTeachingKeepsNobody(t *testing.T) {
	h, list := teach(t)
	n := 0
	log := export.NewLog(key(), func(s signedlog.Segment) error {
		_, err := s.Verify()
		require.NoError(t, err)
		for _, core := range s.Cores {
			n++
			for _, never := range []string{"Secret", "HYPERLINK", "001164000123456", "01a2135c"} {
				assert.NotContains(t, string(core), never)
			}
			for _, e := range entries() {
				assert.NotContains(t, string(core), string(e.Hash))
			}
		}
		return nil
	})
	require.NoError(t, log.Horse(h, [][]exam.Entry{list}))
	require.NoError(t, log.Close())
	assert.Equal(t, 1+len(list), n)
}

// What is to be learnt from stays: values, intervals, ages, times of day, order.
func TestTeachingKeepsTheExam(t *testing.T) {
	was, err := exam.Fold(entries())
	require.NoError(t, err)
	_, list := teach(t)
	for i := range list {
		if i > 0 {
			list[i].Prev = list[i-1].Hash
		}
		require.NoError(t, exam.Seal(&list[i]))
	}
	v, err := exam.Fold(list)
	require.NoError(t, err)
	assert.Equal(t, "Horse 1", v.Horse.Name)
	assert.Equal(t, was.Horse.AgeWords(was.OpenedAt), v.Horse.AgeWords(v.OpenedAt))
	assert.Equal(t, was.OpenedAt.Format("15:04:05 -07:00"), v.OpenedAt.Format("15:04:05 -07:00"))
	assert.InDelta(t, -100*24, v.OpenedAt.Sub(was.OpenedAt).Hours(), 0.001)
	assert.InDelta(t, -38.25, v.Findings[0].Value.Number.Value, 0)
	assert.Equal(t, v.Decisions[0].Vet, v.HandOffs[0].To, "one person has one name")
	assert.NotEqual(t, v.By, v.Decisions[0].Vet)
	assert.Equal(t, "2025-12-21", v.Rechecks[0].On)
	assert.Equal(t, len(was.Injections), len(v.Injections))
}

// An entry field that is added one day stays out of the teaching copy until it is
// named: the sample fills every field there is today.
func TestTheSampleFillsEveryField(t *testing.T) {
	filled := map[string]bool{}
	for _, e := range entries() {
		b, err := json.Marshal(e)
		require.NoError(t, err)
		var m map[string]any
		require.NoError(t, json.Unmarshal(b, &m))
		for k := range m {
			filled[k] = true
		}
	}
	for _, k := range []string{"opening", "context", "value", "reason", "note", "hand_off", "decision", "injection", "draw", "watch", "recheck"} {
		assert.True(t, filled[k], k)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(written(f))
	f.Add([]byte("{\"schema\":\"loosebox/export/2\"}\n{\"end\":true,\"records\":0}\n"))
	f.Add([]byte("line,horse\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		err := export.Read(io.LimitReader(bytes.NewReader(b), 1<<20), "f", func(export.Header) error { return nil }, func(s signedlog.Segment) error {
			_, _ = s.Verify()
			return nil
		})
		if err != nil {
			assert.ErrorContains(t, err, "f, line")
		}
	})
}
