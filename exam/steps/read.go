package steps

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"loosebox/exam"
)

// Bounds of a routine file. The parser's work grows with the square of some of
// them, so a file made to be slow is refused before it is parsed.
const (
	maxBytes   = 1 << 20
	maxLines   = 1000
	maxColumns = 400  // bytes
	maxFlow    = 1000 // brackets, braces and commas outside comment lines
)

// ReadRoutine reads a person's own routine, written in YAML:
//
//	name: yard-round
//	title: Yard round
//	about: mornings, every horse
//	steps:
//	  - breath.rate
//	  - step: gut.sounds
//	    sites: [left upper, left lower]
//	    heading: left side
//	  - step: gut.sounds
//	    sites: [right upper, right lower]
//
// A step written alone is asked at all its sites. The name file stands in the
// messages only. A file that cannot be used gives a *FileError that names every
// line to put right.
func ReadRoutine(r io.Reader, file string, t *exam.Steps) (exam.Routine, error) {
	e := &FileError{File: exam.CleanLine(file, 0)}
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return exam.Routine{}, fmt.Errorf("read routine %s: %w", e.File, err)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	if bounds(e, data); len(e.Problems) > 0 {
		return exam.Routine{}, e
	}
	top := parse(e, data)
	if top == nil {
		return exam.Routine{}, e.orNil()
	}
	own := exam.Routine{Own: true}
	f := &form{FileError: e, table: t, seen: map[exam.Key]int{}}
	f.read(top, &own)
	if err := e.orNil(); err != nil {
		return exam.Routine{}, err
	}
	return own, nil
}

// bounds refuses what is too large, or no text, before it is parsed.
func bounds(e *FileError, data []byte) {
	switch {
	case len(data) > maxBytes:
		e.add(0, "larger than 1 MB; a routine is a page of text")
		return
	case !utf8.Valid(data):
		e.add(firstBad(data), "not UTF-8 text; save the file as UTF-8")
		return
	}
	lines := bytes.Split(data, []byte("\n"))
	if len(lines) > maxLines {
		e.add(maxLines+1, "more than %d lines; a routine is a page of text", maxLines)
	}
	flow := 0
	for i, line := range lines {
		if !bytes.HasPrefix(bytes.TrimSpace(line), []byte("#")) {
			flow += bytes.Count(line, []byte("[")) + bytes.Count(line, []byte("{")) + bytes.Count(line, []byte(","))
		}
		switch {
		case len(line) > maxColumns:
			e.add(i+1, "a line of more than %d characters; a routine is a page of text", maxColumns)
			return
		case flow > maxFlow:
			e.add(i+1, "more brackets and commas than a routine can need")
			return
		}
		if bytes.IndexByte(line, 0) >= 0 {
			e.add(i+1, "holds a zero byte; this is no text file")
			return
		}
	}
}

// firstBad is the line of the first byte that is not UTF-8.
func firstBad(data []byte) int {
	for i, line := range bytes.Split(data, []byte("\n")) {
		if !utf8.Valid(line) {
			return i + 1
		}
	}
	return 0
}

// parse returns the file's one mapping, or nil after adding what is wrong.
func parse(e *FileError, data []byte) *ast.MappingNode {
	// The parser is not ours and reads what people send: a panic in it is a
	// file that cannot be read, no reason to lose an exam.
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
	var top ast.Node
	for _, d := range doc.Docs {
		switch {
		case d.Body == nil:
		case top != nil:
			e.add(lineOf(d.Body), "a second document; one file holds one routine")
			return nil
		default:
			top = d.Body
		}
	}
	m, ok := top.(*ast.MappingNode)
	switch {
	case top == nil:
		e.add(0, "empty; write name: and steps:")
	case !ok:
		e.add(lineOf(top), "a routine begins with keys such as name: and steps:")
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
