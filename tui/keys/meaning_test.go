package keys_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/tui/keys"
)

// One key, one meaning; one act, one label. The driver of the screens' tests (screentest) holds every screen to the same table.
func TestAKeyHasOneMeaningAndALabelOneKey(t *testing.T) {
	byKey, byLabel, byMeaning := map[string]bool{}, map[string]string{}, map[string]bool{}
	for _, m := range keys.Meanings() {
		assert.False(t, byKey[m.Key], "%s stands twice", m.Key)
		assert.False(t, byMeaning[m.Means], "%s stands twice", m.Means)
		byKey[m.Key], byMeaning[m.Means] = true, true
		for _, label := range m.Labels {
			assert.Empty(t, byLabel[label], "%q is shown for two keys", label)
			byLabel[label] = m.Key
		}
	}
	shown := map[string]bool{}
	for _, g := range keys.Groups() {
		for _, b := range g.Bindings {
			assert.Empty(t, b.Fault(), "%s: %s", g.Title, b.Does)
			for _, k := range b.Keys {
				shown[k] = true
			}
		}
	}
	for _, m := range keys.Meanings() {
		assert.True(t, shown[m.Key], "%s is in no group of the printed table", m.Key)
	}
	acts := map[string]bool{}
	for _, a := range keys.Acts() {
		assert.False(t, byMeaning[a.Means], "%s stands twice", a.Means)
		assert.False(t, acts[a.Key+a.Label], "%s %s stands twice", a.Key, a.Label)
		byMeaning[a.Means], acts[a.Key+a.Label] = true, true
	}
	assert.NotEmpty(t, keys.Accept().With("its visit", "").Fault())
	assert.NotEmpty(t, keys.Source().With("order", "").Fault())
	assert.NotEmpty(t, keys.Binding{Keys: []string{"ctrl+q"}}.Fault())
}

// Every binding is made in this package, and no screen goes by the name of a letter itself.
func TestEveryBindingIsMadeHere(t *testing.T) {
	looked := 0
	require.NoError(t, filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		name := filepath.ToSlash(path)
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || strings.HasPrefix(name, "../keys/") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		looked++
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.KeyValueExpr:
				if id, ok := n.Key.(*ast.Ident); ok && id.Name == "Keys" {
					if _, list := n.Value.(*ast.CompositeLit); list {
						t.Errorf("%s makes a binding of its own", name)
					}
				}
			case *ast.BinaryExpr, *ast.SwitchStmt:
				for _, e := range compared(n) {
					if call, ok := e.(*ast.CallExpr); ok && named(call.Fun) && n != nil && letterIn(n) {
						t.Errorf("%s compares the name of a key with a letter", name)
					}
				}
			}
			return true
		})
		return nil
	}))
	assert.Greater(t, looked, 100)
}

// compared are the expressions that a comparison or a switch looks at.
func compared(n ast.Node) []ast.Expr {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		return []ast.Expr{n.X, n.Y}
	case *ast.SwitchStmt:
		return []ast.Expr{n.Tag}
	}
	return nil
}

// named says that a function is keys.Name.
func named(fun ast.Expr) bool {
	s, ok := fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	from, ok := s.X.(*ast.Ident)
	return ok && from.Name == "keys" && s.Sel.Name == "Name"
}

// letterIn says that a node holds the literal of one letter, or of a ctrl combination.
func letterIn(n ast.Node) (found bool) {
	ast.Inspect(n, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text := strings.Trim(lit.Value, `"`)
			found = found || len(text) == 1 && text[0] >= 'a' && text[0] <= 'z' || strings.HasPrefix(text, "ctrl+")
		}
		return !found
	})
	return found
}
