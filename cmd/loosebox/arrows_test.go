package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// arrow is one rule of the rooms: packages under from import nothing under any
// of the places named, for the reason given.
type arrow struct {
	from, reason string
	never        []string
}

// The rooms and their arrows, as the design and DEVELOPERS.md draw them.
func arrows() []arrow {
	terminal := []string{"github.com/charmbracelet/bubbletea", "github.com/charmbracelet/lipgloss", "github.com/charmbracelet/bubbles", "github.com/muesli"}
	const forTests = "what tests share is no part of the program"
	tooling := []string{"loosebox/exam/examtest", "loosebox/tui/screentest", "loosebox/storage/storagetest", "loosebox/cmd/termtest"}
	return []arrow{
		{"ranges", "the tables know nothing of the program", []string{"loosebox/exam", "loosebox/storage", "loosebox/tui", "loosebox/cmd", "loosebox/internal"}},
		{"exam", "the language is spoken by all rooms and knows none of them", []string{"loosebox/storage", "loosebox/tui", "loosebox/cmd"}},
		{"exam", "what is said of an exam does not depend on a screen", terminal},
		{"exam", "only the store keeps files", []string{"go.etcd.io/bbolt", "os", "os/exec", "net", "net/http"}},
		{"ranges", "tables are embedded, not read", append([]string{"os", "net/http"}, terminal...)},
		{"storage", "the store knows the language, not who judges or draws", []string{"loosebox/tui", "loosebox/cmd", "loosebox/ranges", "loosebox/exam/judge", "loosebox/exam/steps", "loosebox/exam/compare", "loosebox/exam/report"}},
		{"storage", "a store draws nothing", terminal},
		{"exam", forTests, tooling},
		{"storage", forTests, tooling},
		{"tui", forTests, tooling},
		{"cmd/loosebox", forTests, tooling},
		{"tui", "screens get the Store interface; only cmd knows which store", []string{"loosebox/storage", "loosebox/cmd", "go.etcd.io/bbolt"}},
	}
}

// files walks the Go files under a room, with their imports.
func files(t *testing.T, room string, visit func(path string, test bool, imports []string)) {
	t.Helper()
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(filepath.Join(root, room), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		var imports []string
		for _, i := range f.Imports {
			imports = append(imports, strings.Trim(i.Path.Value, `"`))
		}
		visit(path, strings.HasSuffix(path, "_test.go"), imports)
		return nil
	})
	require.NoError(t, err)
}

// toolForTests says that a file belongs to a package that tests share.
func toolForTests(path string) bool {
	return strings.HasSuffix(filepath.Base(filepath.Dir(path)), "test")
}

func TestArrowsRunOneWay(t *testing.T) {
	for _, a := range arrows() {
		seen := 0
		files(t, a.from, func(path string, test bool, imports []string) {
			if test || toolForTests(path) {
				return
			}
			seen++
			for _, i := range imports {
				for _, never := range a.never {
					under := strings.HasSuffix(never, "/") && strings.HasPrefix(i, never)
					assert.False(t, under || i == never || strings.HasPrefix(i, never+"/"), "%s imports %s: %s", path, i, a.reason)
				}
			}
		})
		assert.Positive(t, seen, "no file under %s", a.from)
	}
}

// The language imports none of the packages that speak it, and only how words and numbers are written.
func TestExamImportsNoneOfItsChildren(t *testing.T) {
	files(t, "exam", func(path string, test bool, imports []string) {
		if test || filepath.Base(filepath.Dir(path)) != "exam" {
			return
		}
		for _, i := range imports {
			assert.False(t, strings.HasPrefix(i, "loosebox/exam/") && i != "loosebox/exam/notation", "%s imports %s", path, i)
		}
	})
}

// A step is one literal: the table of steps imports the language and the ranges, and nothing else of the program.
func TestStepsStandOnTheLanguageAndTheRanges(t *testing.T) {
	files(t, filepath.Join("exam", "steps"), func(path string, test bool, imports []string) {
		for _, i := range imports {
			if !test && strings.HasPrefix(i, "loosebox/") {
				assert.Contains(t, []string{"loosebox/exam", "loosebox/exam/notation", "loosebox/ranges", "loosebox/ranges/words"}, i, path)
			}
		}
	})
}

// Only cmd reads the clock; everybody else is handed the time.
func TestOnlyCmdReadsTheClock(t *testing.T) {
	for _, room := range []string{"exam", "ranges", "storage", "tui"} {
		files(t, room, func(path string, test bool, _ []string) {
			if test || toolForTests(path) {
				return
			}
			text := read(t, path)
			assert.NotContains(t, text, "time.Now(", path)
			assert.NotContains(t, text, "func init()", path)
		})
	}
}

// Entries are checked and written by exam/desk alone: no screen, prompt or command opens a visit or adds an entry past it.
func TestOnlyTheDeskWritesEntries(t *testing.T) {
	// Only stores have a method Append. A form has Begin as well, so that of a store is known by its receiver or by the entry that it takes.
	past := regexp.MustCompile(`\w\.Append\(|(\w*[sS]tore|[rR]ecord|[rR]ehearsals|\b[rpk])\.Begin\(|\.Begin\((exam\.Entry|e|end|entry|entries|first)\b`)
	for _, room := range []string{"exam", "tui", filepath.Join("cmd", "loosebox")} {
		files(t, room, func(path string, test bool, _ []string) {
			at := filepath.ToSlash(path)
			if test || toolForTests(path) || strings.Contains(at, "/exam/desk/") || strings.HasSuffix(at, "/cmd/loosebox/keeper.go") {
				return
			}
			for _, line := range past.FindAllString(read(t, path), -1) {
				if !strings.HasSuffix(at, "/tui/screen/tour/screen.go") { // its visit is never on the disk
					t.Errorf("%s writes past exam/desk: %s", path, line)
				}
			}
		})
	}
}
