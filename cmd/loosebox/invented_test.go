package main

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox/manual"
	"loosebox/exam"
	"loosebox/exam/demo"
	"loosebox/exam/rehearse"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// plainlyInvented is a product that nobody can take for a real one: a vaccine or
// a product with a letter, or a single letter.
var plainlyInvented = regexp.MustCompile(`(?i)^((vaccine|product)( [a-z])?( \(invented\))?|[a-z]|other|x{10,}.*)$`)

// products are where a product stands in code, scripts and docs.
var products = regexp.MustCompile("Product: \"([^\"]*)\"|injection:([A-Za-z][^:\"'`,|]*)|--product \"([^\"]*)\"|\"give ([A-Z][^\"]*)\"")

func TestProductsAreInvented(t *testing.T) {
	seen := 0
	written(t, func(path, text string) {
		for _, m := range products.FindAllStringSubmatch(text, -1) {
			name, _, _ := strings.Cut(m[1]+m[2]+m[3]+m[4], ", ")
			name = strings.Join(strings.Fields(strings.NewReplacer(`\x1b[31m`, "", `\x1b[2J`, "", `\`, "").Replace(name)), " ")
			if name == "" || name == "PRODUCT" || name == "blood draw" { // a pattern of the help, a kind of work
				continue
			}
			seen++
			assert.Regexp(t, plainlyInvented, name, "%s: invented products are called Vaccine A or Product B", path)
		}
	})
	assert.Greater(t, seen, 40, "the products were found")
}

// written walks what the repository says in words: code, scripts, docs, cases, tables.
func written(t *testing.T, visit func(path, text string)) {
	t.Helper()
	root := filepath.Join("..", "..")
	require.NoError(t, filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !slices.Contains([]string{".go", ".txtar", ".md", ".yaml"}, filepath.Ext(path)) {
			return err
		}
		text, err := os.ReadFile(path) //nolint:gosec // a file of this repository
		visit(path, string(text))
		return err
	}))
}

func TestInventedChipsAreOfNoCountry(t *testing.T) {
	for _, a := range inventedYard(t) {
		if a.Horse.Chip == "" {
			continue
		}
		assert.Truef(t, strings.HasPrefix(a.Horse.Chip, "001"), "%s: 001 is no country of ISO 3166", a.Horse.Name)
		chip, err := exam.ReadChip(a.Horse.Chip)
		require.NoError(t, err)
		assert.Equal(t, a.Horse.Chip, chip)
	}
}

func TestNoHorseHasTheNameOfARehearsals(t *testing.T) {
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	cases, err := rehearse.Cases(steps.Table(), table)
	require.NoError(t, err)
	require.NotEmpty(t, cases)
	read := read(t, filepath.Join("..", "..", "README.md"))
	for _, p := range manual.Pages() {
		read += p.Text
	}
	for _, c := range cases {
		for _, a := range inventedYard(t) {
			assert.NotEqual(t, c.Horse.Name, a.Horse.Name)
		}
		assert.NotRegexp(t, `\b`+c.Horse.Name+`\b`, read)
	}
}

func TestNoTwoPeopleHaveNearlyTheSameName(t *testing.T) {
	all := map[string]bool{}
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	lessons, err := demo.Rehearsals(time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC), steps.Table(), table, steps.Routines())
	require.NoError(t, err)
	for _, a := range slices.Concat(inventedYard(t), lessons) {
		if !strings.Contains(a.Horse.Place, a.Horse.Owner) { // a farm that owns what it keeps is no person
			all[a.Horse.Owner] = true
		}
		for _, e := range slices.Concat(a.Visits...) {
			all[e.By] = true
			if e.HandOff != nil {
				all[e.HandOff.To] = true
			}
			if e.Decision != nil {
				all[e.Decision.Vet] = true
			}
		}
	}
	delete(all, "")
	require.Greater(t, len(all), 5, "%v", all)
	people := slices.Sorted(maps.Keys(all))
	for i, a := range people {
		for _, b := range people[:i] {
			la, lb := lastName(a), lastName(b)
			assert.Greater(t, distance(la, lb), 2, "%s and %s", a, b)
			assert.NotEqual(t, strings.ToLower(la[:2]), strings.ToLower(lb[:2]), "%s and %s begin alike", a, b)
		}
	}
}

func lastName(name string) string {
	words := strings.Fields(name)
	return words[len(words)-1]
}

// distance is how many letters have to be changed, added or taken away.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			same := corner
			if a[i] != b[j] {
				same++
			}
			corner = row[j+1]
			row[j+1] = min(same, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}

func inventedYard(t *testing.T) []demo.History {
	t.Helper()
	out, err := demo.Yard(time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC), steps.Table(), steps.Routines())
	require.NoError(t, err)
	return out
}
