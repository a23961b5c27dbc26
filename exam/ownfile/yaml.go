package ownfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// FileKind is a kind of YAML file: what it is called, and its bounds. The parser's
// work grows with the square of some of them, so a file made to be slow is
// refused before it is parsed.
type FileKind struct {
	Noun   string // "routine"
	Pages  string // how long one is, "a page of text"
	Begins string // "begins with keys such as name: and steps:"

	Bytes   int64
	Lines   int
	Columns int // bytes of one line
	Flow    int // brackets, braces and commas outside comment lines
}

// Read reads a file whole, with line ends as one sign and without a byte order
// mark. An error is one of reading; what is wrong with the file is added to e.
func Read(r io.Reader, e *FileError) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, e.Kind.Bytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s %s: %w", e.Kind.Noun, e.File, err)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	bound(e, data)
	return data, nil
}

// bound refuses what is too large, or no text.
func bound(e *FileError, data []byte) {
	k := e.Kind
	if int64(len(data)) > k.Bytes {
		e.Add(0, "larger than %s; a %s is %s", size(k.Bytes), k.Noun, k.Pages)
		return
	}
	lines, flow := bytes.Split(data, []byte("\n")), 0
	if len(lines) > k.Lines {
		e.Add(k.Lines+1, "more than %d lines; a %s is %s", k.Lines, k.Noun, k.Pages)
		return
	}
	for i, line := range lines {
		if !bytes.HasPrefix(bytes.TrimSpace(line), []byte("#")) {
			flow += bytes.Count(line, []byte("[")) + bytes.Count(line, []byte("{")) + bytes.Count(line, []byte(","))
		}
		what := ""
		switch {
		case !utf8.Valid(line):
			what = "not UTF-8 text; save the file as UTF-8"
		case bytes.IndexByte(line, 0) >= 0:
			what = "holds a zero byte; this is no text file"
		case len(line) > k.Columns:
			what = fmt.Sprintf("a line of more than %d characters; a %s is %s", k.Columns, k.Noun, k.Pages)
		case flow > k.Flow:
			what = fmt.Sprintf("more than %d brackets and commas, which no %s can need", k.Flow, k.Noun)
		}
		if what != "" {
			e.Add(i+1, "%s", what)
			return
		}
	}
}

// size writes a number of bytes as whole MB or kB.
func size(n int64) string {
	if n >= 1<<20 {
		return fmt.Sprintf("%d MB", n>>20)
	}
	return fmt.Sprintf("%d kB", n>>10)
}

// Parse returns the file's one mapping, or nil after adding what is wrong.
func Parse(e *FileError, data []byte) *ast.MappingNode {
	// The parser is not ours and reads what people send: a panic in it is a
	// file that cannot be read, no reason to lose an exam.
	defer func() {
		if p := recover(); p != nil {
			e.Add(0, "cannot be read as YAML")
		}
	}()
	doc, err := parser.ParseBytes(data, 0)
	if err != nil {
		line, what := 0, err.Error()
		var at yaml.Error
		if errors.As(err, &at) {
			what = at.GetMessage()
			if token := at.GetToken(); token != nil && token.Position != nil {
				line = token.Position.Line
			}
		}
		e.Add(line, "not YAML: %s", what)
		return nil
	}
	var top ast.Node
	for _, d := range doc.Docs {
		switch {
		case d.Body == nil:
		case top != nil:
			e.Add(LineOf(d.Body), "a second document; one file holds one %s", e.Kind.Noun)
			return nil
		default:
			top = d.Body
		}
	}
	m, ok := top.(*ast.MappingNode)
	switch {
	case top == nil:
		e.Add(0, "empty; a %s %s", e.Kind.Noun, e.Kind.Begins)
	case !ok:
		e.Add(LineOf(top), "a %s %s", e.Kind.Noun, e.Kind.Begins)
	}
	return m
}

// LineOf is the line that a node begins on, 0 where that is not known.
func LineOf(n ast.Node) int {
	if n == nil {
		return 0
	}
	if token := n.GetToken(); token != nil && token.Position != nil {
		return token.Position.Line
	}
	return 0
}

// TextOf is a plain value as text; false for lists, maps, nothing and aliases.
func TextOf(n ast.Node) (string, bool) {
	switch n := n.(type) {
	case *ast.StringNode:
		return n.Value, true
	case *ast.LiteralNode:
		return n.Value.Value, true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode:
		return n.GetToken().Value, true
	default:
		return "", false
	}
}
