package main

import (
	"bytes"
	"cmp"
	"fmt"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"path"
	"slices"
	"strings"
)

// longFile and longFunction are the lengths in lines above which a file or function is counted as long.
const (
	longFile     = 250
	longFunction = 60
)

// sized is something with its length in lines.
type sized struct {
	name  string
	lines int
}

// pack is a package: what it is for, and how large it is without its tests.
type pack struct {
	path, says   string
	files, lines int
}

// counts are the measures of a tree; all without tests but testLines.
type counts struct {
	lines, testLines, files, median, long     int
	functions, medianFunction, shortFunctions int
	longest, longestFunction                  sized
	packages                                  []pack
}

// silent is how many packages have no package comment.
func (c counts) silent() int {
	n := 0
	for _, p := range c.packages {
		if p.says == "" {
			n++
		}
	}
	return n
}

// count measures a tree. The error names a file that does not parse.
func count(t tree) (counts, error) {
	var c counts
	var files, functions []sized
	packages := map[string]*pack{}
	for name, text := range t {
		lines := bytes.Count(text, []byte("\n"))
		if isTest(name) {
			c.testLines += lines
			continue
		}
		c.lines += lines
		files = append(files, sized{name, lines})
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, text, parser.ParseComments)
		if err != nil {
			return c, fmt.Errorf("read the source: %w", err)
		}
		functions = append(functions, functionsOf(set, file, name)...)
		at := path.Dir(name)
		if packages[at] == nil {
			packages[at] = &pack{path: at}
		}
		p := packages[at]
		p.files, p.lines = p.files+1, p.lines+lines
		if says := new(doc.Package).Synopsis(file.Doc.Text()); len(says) > len(p.says) {
			p.says = says
		}
	}
	c.files, c.median, c.longest = len(files), median(files), longest(files)
	c.functions, c.medianFunction, c.longestFunction = len(functions), median(functions), longest(functions)
	for _, f := range files {
		if f.lines > longFile {
			c.long++
		}
	}
	for _, f := range functions {
		if f.lines <= longFunction {
			c.shortFunctions++
		}
	}
	for _, p := range packages {
		c.packages = append(c.packages, *p)
	}
	slices.SortFunc(c.packages, func(a, b pack) int { return strings.Compare(a.path, b.path) })
	return c, nil
}

// functionsOf lists the functions and methods of a file; a function within another is part of that.
func functionsOf(set *token.FileSet, file *ast.File, name string) (out []sized) {
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Body != nil {
			lines := set.Position(f.End()).Line - set.Position(f.Pos()).Line + 1
			out = append(out, sized{f.Name.Name + " in " + name, lines})
		}
	}
	return out
}

func median(list []sized) int {
	if len(list) == 0 {
		return 0
	}
	slices.SortFunc(list, func(a, b sized) int { return cmp.Compare(a.lines, b.lines) })
	return list[len(list)/2].lines
}

// longest is the longest of a list; of several the first by name, so that the page is the same each time.
func longest(list []sized) (most sized) {
	for _, s := range list {
		if s.lines > most.lines || s.lines == most.lines && s.name < most.name {
			most = s
		}
	}
	return most
}
