package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// All that one run shows and writes measures a wait alike.
func TestARunMeasuresEveryWaitAlike(t *testing.T) {
	e, other := &env{}, &env{}
	assert.Same(t, e.desk(nil).Waits, e.desk(nil).Waits)
	assert.NotSame(t, e.desk(nil).Waits, other.desk(nil).Waits)
}

// A clock that fell back a year is told by the commands that examine or list visits.
func TestACommandTellsThatTheClockIsBehind(t *testing.T) {
	dir := t.TempDir()
	withRecord(t, dir, func(r *storage.Record) {
		h, err := r.SaveHorse(exam.Horse{Revision: 1, Name: "Bramble", Kind: exam.AnimalPony}, "Ann", importDay())
		require.NoError(t, err)
		_, err = r.Begin(exam.Entry{Kind: exam.EntryOpened, At: importDay(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
		require.NoError(t, err)
		_, err = r.SaveHorse(exam.Horse{Revision: 1, Name: "Moth", Kind: exam.AnimalPony}, "Ann", importDay())
		require.NoError(t, err)
	})
	for _, args := range [][]string{nil, {"exam", "Moth", "--by", "Ann"}} {
		for years, told := range map[int]bool{0: false, -1: true} {
			var out, errOut bytes.Buffer
			e := &env{in: strings.NewReader(""), out: &out, errOut: &errOut, lookup: func(string) string { return "" }}
			e.now = func() time.Time { return importDay().AddDate(years, 0, 0) }
			code := e.run(append([]string{"--data", dir}, args...))
			require.Zero(t, code, errOut.String())
			assert.Equal(t, told, strings.Contains(errOut.String(), "but a visit is dated"), "%v: %s", args, errOut.String())
		}
	}
}

// byNow are the places that write a time or its day as it is: it is of the clock already, was typed by it, or is of a file.
var byNow = map[string]string{
	"cmd/loosebox/restore.go":        "the offset stands behind it",
	"cmd/loosebox/importplan.go":     "as the file has it",
	"cmd/loosebox/whichvisit.go":     "turned by exam.ByClock",
	"exam/round/reasons.go":          "turned by exam.ByClock",
	"tui/entry/event.go":             "typed by the clock of now",
	"tui/screen/compare/columns.go":  "turned by exam.ByClock",
	"tui/screen/trend/draw.go":       "turned by exam.ByClock",
	"tui/screen/trend/load.go":       "turned by exam.ByClock",
	"tui/screen/late/screen.go":      "typed by the clock of now",
	"tui/screen/form/text.go":        "typed by the clock of now",
	"exam/procedure/order/weight.go": "counted back from now",
	"cmd/loosebox/due.go":            "a day, no time",
	"tui/screen/due/load.go":         "a day, no time",
	"tui/screen/due/rows.go":         "a day, no time",
	"exam/due/dose.go":               "a day, no time",
	"exam/label/label.go":            "a day, no time",
}

// A screen, a prompt and a list of a command show a time, and the day of a time, by the clock that a person reads now, wherever it was saved: through
// notation.Clock and its like, or turned with In beforehand. Pages and files keep the zone of the record, with its offset.
func TestScreensShowTimesByTheClockOfNow(t *testing.T) {
	looked, used := 0, map[string]bool{}
	for _, root := range []string{"cmd/loosebox", "tui", "exam/after", "exam/authorization", "exam/desk", "exam/due", "exam/handoff", "exam/label", "exam/procedure", "exam/round", "exam/settle"} {
		require.NoError(t, filepath.WalkDir("../../"+root, func(path string, _ os.DirEntry, err error) error {
			name := filepath.ToSlash(strings.TrimPrefix(path, "../../"))
			if err != nil || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || strings.Contains(name, "screentest") {
				return err
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, path, nil, 0)
			require.NoError(t, err)
			turned := map[string]bool{"now": true} // variables that were set to a time of the clock of now
			ast.Inspect(file, func(n ast.Node) bool {
				if a, ok := n.(*ast.AssignStmt); ok {
					for i := range min(len(a.Lhs), len(a.Rhs)) {
						if x, ok := a.Lhs[i].(*ast.Ident); ok {
							turned[x.Name] = ofNow(a.Rhs[i], nil)
						}
					}
				}
				c, ok := n.(*ast.CallExpr)
				if !ok || len(c.Args) != 1 {
					return true
				}
				f, ok := c.Fun.(*ast.SelectorExpr)
				if !ok || f.Sel.Name != "Format" || !dated(file, c.Args[0]) {
					return true
				}
				if looked++; ofNow(f.X, turned) {
					return true
				}
				used[name] = true
				assert.Contains(t, byNow, name, "%s: a time as it was saved", set.Position(n.Pos()))
				return true
			})
			return nil
		}))
	}
	assert.Greater(t, looked, 20)
	for name := range byNow {
		assert.True(t, used[name], "%s needs no leave any more", name)
	}
}

// ofNow says that an expression is a time in the zone of the clock.
func ofNow(x ast.Expr, turned map[string]bool) bool {
	if id, ok := x.(*ast.Ident); ok {
		return turned[id.Name]
	}
	c, ok := x.(*ast.CallExpr)
	if !ok {
		return false
	}
	f, ok := c.Fun.(*ast.SelectorExpr)
	return ok && (f.Sel.Name == "In" || f.Sel.Name == "Now" || f.Sel.Name == "now")
}

// dated says that a layout has the time of day, or the day, for a person. A constant of the file is looked up.
func dated(file *ast.File, layout ast.Expr) bool {
	found := false
	ast.Inspect(layout, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.BasicLit:
			found = found || strings.Contains(x.Value, "15:04") && !strings.Contains(x.Value, "T15:04") || strings.Contains(x.Value, "2 Jan")
		case *ast.SelectorExpr:
			found = found || x.Sel.Name == "DayShown"
		case *ast.Ident:
			if x.Obj != nil && x.Obj.Decl != nil && x.Obj.Decl != n {
				if v, ok := x.Obj.Decl.(*ast.ValueSpec); ok {
					for i := range v.Values {
						found = found || i < len(v.Names) && v.Names[i].Name == x.Name && dated(file, v.Values[i])
					}
				}
			}
		}
		return true
	})
	return found
}
