package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/examtest"
	"loosebox/ranges/words"
)

// leaky are the tables whose keys and words are looked for, each with those that sentences of the program use as well.
func leaky() map[string]string {
	return map[string]string{
		"animal":            "horse donkey mule pony draft miniature",
		"class":             "pony mule yearling",
		"reason not done":   "other unsafe",
		"way of counting":   "typed",
		"way of weighing":   "scale",
		"birth date":        "day minute month year adult",
		"state":             "at rest worked",
		"means":             "here",
		"sex":               "mare",
		"mare of a foal":    "vaccinated",
		"level":             "usual note recheck",
		"consent":           "said",
		"bound":             "under over up to or more",
		"route":             "",
		"origin of a range": "",
	}
}

// fixed are sentences of the program that hold a key.
func fixed() *strings.Replacer {
	return strings.NewReplacer("tell the vet first", "", "normal variation is not known", "", "normal variation not known", "", "accuracy is not known", "", "accuracy not known", "", "method not recorded", "", "is not recorded", "", "day-to-day variation is not known", "", "time not known", "", "tell the vet if", "", "amount not known", "", "amount is not known", "", "more than accuracy; this horse's normal", "", "normal variation not known", "", "chip             not recorded", "", "chip   not recorded", "", "adult horse vaccination", "", "not known, so no", "", "age not known", "")
}

// keysOf are the columns of an export that hold keys; the name of the step and the value are in words.
func keysOf(t *testing.T, text string) string {
	var out strings.Builder
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	name, value := slices.Index(rows[0], "name"), slices.Index(rows[0], "value")
	require.Positive(t, name)
	for _, row := range rows {
		out.WriteString(strings.Join(slices.Concat(row[:name], row[name+1:value], row[value+1:]), "|") + "\n")
	}
	return out.String()
}

// same compares long texts and shows where they begin to differ.
func same(t *testing.T, want, got, what string) {
	t.Helper()
	for i := range min(len(want), len(got)) {
		if want[i] != got[i] {
			t.Errorf("%s differ: %q, not %q", what, got[max(0, i-60):min(len(got), i+60)], want[max(0, i-60):min(len(want), i+60)])
			return
		}
	}
	assert.Len(t, got, len(want), what)
}

// With every text of the tables marked no page shows a key, or English that stands beside the tables; and what other
// programs read is the same to the last byte.
func TestAnotherLanguageIsATable(t *testing.T) {
	data := t.TempDir() + "/yard"
	code, _, errOut := runIn(data, "", "demo", "--keep", data)
	require.Zero(t, code, errOut)
	run := func(args ...string) string {
		code, out, errOut := runIn(data, "", args...)
		require.Zero(t, code, "%v: %s", args, errOut)
		return out
	}
	ids := func(args ...string) (out []string) {
		for _, m := range regexp.MustCompile(`"id": ?"([^"]+)"`).FindAllStringSubmatch(run(args...), -1) {
			out = append(out, m[1])
		}
		return out
	}
	var pages, files [][]string
	files = append(files, []string{"horses", "--json"}, []string{"ranges", "--summary", "--json"})
	for _, horse := range ids("horses", "--json") {
		pages = append(pages, []string{"visits", horse}, []string{"compare", horse})
		files = append(files, []string{"visits", horse, "--json"})
		for _, visit := range ids("visits", horse, "--json")[:1] {
			pages = append(pages, []string{"show", visit}, []string{"show", visit, "--for", "owner"}, []string{"handoff", visit}, []string{"after", visit})
		}
	}
	pages = append(pages, []string{"horses"}, []string{"sheet"})
	export := func(as, name string) string {
		file := filepath.Join(t.TempDir(), name)
		run("export", "--as", as, "-o", file)
		content, err := os.ReadFile(file)
		require.NoError(t, err)
		return string(content)
	}
	lines, cells := export("json", "all.jsonl"), export("csv", "all.csv")
	var before []string
	for _, args := range files {
		before = append(before, run(args...))
	}

	defer words.Use(nil)
	words.Use(examtest.MarkedWords())
	same(t, lines, export("json", "again.jsonl"), "the stored lines")
	same(t, keysOf(t, cells), keysOf(t, export("csv", "again.csv")), "the keys of the sheet")
	for i, args := range files {
		same(t, before[i], run(args...), strings.Join(args, " "))
	}
	var text strings.Builder
	for _, args := range pages {
		text.WriteString(run(args...))
	}
	low := fixed().Replace(strings.ToLower(text.String()))
	require.Contains(t, low, "téll thé vét")
	assert.Equal(t, []string(nil), examtest.Leaks(low, leaky()))
}
