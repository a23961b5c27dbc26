package main

import (
	"go/ast"
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

// A name with its package, as "desk.Write" or "exam.Step.LooksUsual", that a comment or DEVELOPERS.md gives is there.
func TestCommentsNameWhatIsThere(t *testing.T) {
	root := filepath.Join("..", "..")
	declared := map[string]map[string]bool{} // of a package: what it and its tests declare
	developers := filepath.Join(root, "DEVELOPERS.md")
	said := []struct{ where, text string }{{developers, read(t, developers)}}
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, group := range file.Comments {
			said = append(said, struct{ where, text string }{path, group.Text()})
		}
		name := strings.TrimSuffix(file.Name.Name, "_test")
		if declared[name] == nil {
			declared[name] = map[string]bool{}
		}
		declare(file, declared[name])
		return nil
	}))
	found := 0
	name := regexp.MustCompile(`\b([a-z][a-z0-9]+)\.([A-Z]\w+)(?:\.([A-Z]\w+))?`)
	for _, s := range said {
		for _, m := range name.FindAllStringSubmatch(s.text, -1) {
			of, ours := declared[m[1]]
			if !ours {
				continue
			}
			found++
			assert.True(t, of[m[2]] && (m[3] == "" || of[m[3]]), "%s names %s, which is not there", s.where, m[0])
		}
	}
	assert.Greater(t, found, 100)
}

// A comment of a function or type that begins with a word in small letters begins with the name: one that was renamed alone
// would describe what is no longer there.
func TestACommentBeginsWithTheNameItIsOf(t *testing.T) {
	first := regexp.MustCompile(`^[a-z]\w*`)
	checked := 0
	require.NoError(t, filepath.WalkDir(filepath.Join("..", ".."), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		check := func(name string, doc *ast.CommentGroup) {
			if word := first.FindString(doc.Text()); word != "" {
				checked++
				assert.Equal(t, name, word, "the comment of %s in %s", name, path)
			}
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				check(d.Name.Name, d.Doc)
			case *ast.GenDecl:
				if spec, ok := d.Specs[0].(*ast.TypeSpec); ok && !d.Lparen.IsValid() {
					check(spec.Name.Name, d.Doc)
				}
			}
		}
		return nil
	}))
	assert.Greater(t, checked, 1000)
}

// declare notes every type, function, method, field, constant and variable of a file.
func declare(file *ast.File, names map[string]bool) {
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			names[n.Name.Name] = true
		case *ast.TypeSpec:
			names[n.Name.Name] = true
		case *ast.ValueSpec:
			for _, id := range n.Names {
				names[id.Name] = true
			}
		case *ast.Field:
			for _, id := range n.Names {
				names[id.Name] = true
			}
		}
		return true
	})
}
