package rehearse

import (
	"bytes"
	"errors"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// Bounds of a case file. The parser's work grows with the square of some of them, so a file made to be slow is refused
// before it is parsed.
const (
	maxBytes   = 256 << 10
	maxLines   = 600
	maxColumns = 400  // bytes
	maxFlow    = 1000 // brackets, braces and commas
)

// bounds refuses what is too large, or no text.
func bounds(e *FileError, data []byte) {
	if len(data) > maxBytes {
		e.add(0, "larger than 256 kB; a case is some pages of text")
		return
	}
	lines, flow := bytes.Split(data, []byte("\n")), 0
	if len(lines) > maxLines {
		e.add(maxLines+1, "more than %d lines; a case is some pages of text", maxLines)
		return
	}
	for i, line := range lines {
		flow += bytes.Count(line, []byte("[")) + bytes.Count(line, []byte("{")) + bytes.Count(line, []byte(","))
		switch {
		case !utf8.Valid(line):
			e.add(i+1, "not UTF-8 text; save the file as UTF-8")
			return
		case bytes.IndexByte(line, 0) >= 0:
			e.add(i+1, "holds a zero byte; this is no text file")
			return
		case len(line) > maxColumns:
			e.add(i+1, "a line of more than %d characters", maxColumns)
			return
		case flow > maxFlow:
			e.add(i+1, "more brackets and commas than a case can need")
			return
		}
	}
}

// parse returns the file's one mapping, or nil after adding what is wrong.
func parse(e *FileError, data []byte) *ast.MappingNode {
	// The parser is not ours and reads what people send: a panic in it is a file that cannot be read, no reason to end.
	defer func() {
		if p := recover(); p != nil {
			e.add(0, "cannot be read as YAML")
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
		e.add(line, "not YAML: %s", what)
		return nil
	}
	var bodies []ast.Node
	for _, d := range doc.Docs {
		if d.Body != nil {
			bodies = append(bodies, d.Body)
		}
	}
	if len(bodies) == 0 {
		e.add(0, "empty; a case begins with name:")
		return nil
	}
	if len(bodies) > 1 {
		e.add(lineOf(bodies[1]), "a second document; one file holds one case")
		return nil
	}
	m, ok := bodies[0].(*ast.MappingNode)
	if !ok {
		e.add(lineOf(bodies[0]), "a case begins with keys such as name: and truth:")
	}
	return m
}

// lineOf is the line that a node begins on, 0 where that is not known.
func lineOf(n ast.Node) int {
	if n == nil {
		return 0
	}
	if token := n.GetToken(); token != nil && token.Position != nil {
		return token.Position.Line
	}
	return 0
}

// textOf is a plain value as text; false for lists, maps, nothing and aliases.
func textOf(n ast.Node) (string, bool) {
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
