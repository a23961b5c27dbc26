//go:build unix

package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// hostileText is what must stay text everywhere: a spreadsheet formula (OWASP, CSV
// injection), markup, an escape sequence, a bidi override, a null and line ends.
const hostileText = "=HYPERLINK(\"x\")</td><script>alert(1)</script>\x1b[31m\u202e\x00,;'\r\n@end"

// fill puts the hostile text into every text of a value that is free: keys have
// types of their own, or stand in lists.
func fill(v reflect.Value) (n int) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			return fill(v.Elem())
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[notation.Quantity]() {
			return 0
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				n += fill(v.Field(i))
			}
		}
	case reflect.Slice:
		if v.Type() == reflect.TypeFor[[]string]() {
			return 0
		}
		for i := range v.Len() {
			n += fill(v.Index(i))
		}
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.String() != "" {
			v.SetString(hostileText)
			return 1
		}
	default:
	}
	return n
}

// hostileRecord writes the demo's visits again, with the hostile text in every free
// text that a line still is admitted with.
func hostileRecord(t *testing.T) (data string, last exam.VisitID, filled int) {
	t.Helper()
	from, err := storage.Open(yard(t), storage.Options{})
	require.NoError(t, err)
	defer func() { require.NoError(t, from.Close()) }()
	data = filepath.Join(t.TempDir(), "hostile")
	to, err := storage.Open(data, storage.Options{})
	require.NoError(t, err)
	defer func() { require.NoError(t, to.Close()) }()

	horses, err := from.Horses()
	require.NoError(t, err)
	for _, found := range horses {
		h := found.Horse
		filled += fill(reflect.ValueOf(&h))
		h.ID, h.Chip, h.UELN, h.Revision = "", found.Horse.Chip, found.Horse.UELN, 1
		h.Cautions = append(h.Cautions, hostileText)
		h, err := to.SaveHorse(h, hostileText, found.Horse.Birth.At)
		require.NoError(t, err)
		past, err := from.Past(found.Horse.ID, 0)
		require.NoError(t, err)
		slices.Reverse(past)
		for _, v := range past {
			n, id := writeAgain(t, from, to, v.ID, h)
			filled += n
			if len(v.Injections) > 0 || len(v.Draws) > 0 {
				last = id
			}
		}
	}
	return data, last, filled
}

func writeAgain(t *testing.T, from, to *storage.Record, visit exam.VisitID, h exam.Horse) (filled int, id exam.VisitID) {
	t.Helper()
	lines, err := from.Entries(visit)
	require.NoError(t, err)
	for i, line := range lines {
		data, err := json.Marshal(line)
		require.NoError(t, err)
		var e exam.Entry
		require.NoError(t, json.Unmarshal(data, &e))
		n := fill(reflect.ValueOf(&e))
		e.Visit, e.Reason = id, line.Reason
		keepDoses(&e, line)
		if i == 0 {
			e.Opening.Horse, e.Opening.Routine = h, line.Opening.Routine
			v, err := to.Begin(e)
			require.NoError(t, err)
			id = v.ID
			filled += n
			continue
		}
		if _, err := to.Append(e); err == nil {
			filled += n
			continue
		}
		line.Visit = id // a key among its texts: it stands as it was
		_, err = to.Append(line)
		require.NoError(t, err, "%s", data)
	}
	return filled, id
}

// keepDoses puts doses and strengths back: the gate reads them, so that no other text stands there.
func keepDoses(e *exam.Entry, line exam.Entry) {
	if e.Decision != nil {
		for i := range e.Decision.Covers {
			e.Decision.Covers[i].Dose = line.Decision.Covers[i].Dose
		}
	}
	if e.Injection != nil && e.Injection.Order != nil {
		e.Injection.Order.Dose, e.Injection.Order.Strength = line.Injection.Order.Dose, line.Injection.Order.Strength
	}
}

// Whatever a text field holds, in every format that leaves the program it stays text.
func TestHostileTextInEveryFieldOfEveryFormat(t *testing.T) {
	t.Parallel()
	data, visit, filled := hostileRecord(t)
	require.Greater(t, filled, 2000, "texts filled")
	require.NotEmpty(t, visit)
	out := t.TempDir()
	controls := regexp.MustCompile(`[\x00-\x08\x0b-\x1f\x7f\x{202e}]`)
	formula := regexp.MustCompile(`^[=@\t\r]|^[-+][^0-9. ]|[\x00-\x08\x0b-\x1f\x7f\x{202e}]`)
	write := func(name string, args ...string) string {
		t.Helper()
		file := filepath.Join(out, name)
		_, errOut, code := command(t, data, append(args, "-o", file)...)
		require.Zero(t, code, "%v: %s", args, errOut)
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		return string(text)
	}
	id := string(visit)

	for name, args := range map[string][]string{
		"visit.txt": {"show", id}, "owner.txt": {"show", id, "--for", "owner"},
	} {
		text := write(name, args...)
		assert.NotRegexp(t, controls, text, name)
		assert.Contains(t, text, "alert(1)", name)
	}
	for name, args := range map[string][]string{
		"visit.html": {"show", id, "--as", "html"}, "owner.html": {"show", id, "--as", "html", "--for", "owner"},
	} {
		text := write(name, args...)
		assert.NotContains(t, text, "<script", name)
		assert.NotRegexp(t, controls, text, name)
		assert.Contains(t, text, "&lt;script&gt;alert(1)", name)
	}
	for name, args := range map[string][]string{"visit.csv": {"show", id, "--as", "csv"}, "all.csv": {"export", "--as", "csv"}} {
		rows, err := csv.NewReader(strings.NewReader(write(name, args...))).ReadAll()
		require.NoError(t, err, name)
		seen := 0
		for _, row := range rows {
			for _, cell := range row {
				assert.NotRegexp(t, formula, cell, name)
				if strings.Contains(cell, "HYPERLINK") {
					seen++
				}
			}
		}
		assert.Positive(t, seen, name)
	}
	for name, args := range map[string][]string{
		"visit.json": {"show", id, "--as", "json"}, "visit.fhir.json": {"show", id, "--as", "fhir"},
	} {
		text := write(name, args...)
		assert.True(t, json.Valid([]byte(text)), name)
		assert.NotRegexp(t, `\\u0000|\\u001b|\\u202e|[\x00-\x08\x0b-\x1f\x7f\x{202e}]`, text, name)
		assert.Contains(t, text, "alert(1)", name)
	}
	bundle := write("all.fhir.json", "export", "--as", "fhir")
	assert.NotRegexp(t, `\\u0000|\\u001b|\\u202e`, bundle)
	for _, paper := range []string{"visit.pdf", "owner.pdf"} {
		args := []string{"show", id, "--as", "pdf"}
		if paper == "owner.pdf" {
			args = append(args, "--for", "owner")
		}
		assert.Regexp(t, regexp.MustCompile(`(?s)^%PDF-1\..*%%EOF\s*$`), write(paper, args...))
	}

	// The copy that survives any damage is read into an empty record as it was.
	lines := write("all.jsonl", "export", "--as", "json")
	second := filepath.Join(out, "second")
	_, errOut, code := command(t, second, "import", filepath.Join(out, "all.jsonl"))
	require.Zero(t, code, errOut)
	back := filepath.Join(out, "again.jsonl")
	_, errOut, code = command(t, second, "export", "--as", "json", "-o", back)
	require.Zero(t, code, errOut)
	again, err := os.ReadFile(back)
	require.NoError(t, err)
	assert.Equal(t, digests(lines), digests(string(again)))
	assert.NotEmpty(t, digests(lines))
}

// digests are those of the lines of an export, in order of their text.
func digests(export string) []string {
	found := regexp.MustCompile(`"identity":"[0-9a-f]{64}"`).FindAllString(export, -1)
	slices.Sort(found)
	return found
}
