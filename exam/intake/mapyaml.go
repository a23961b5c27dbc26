package intake

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

// Bounds of a mapping file. The parser's work grows with the square of some of
// them, so a file made to be slow is refused before it is parsed.
const (
	maxMapBytes = 256 << 10
	maxMapLines = 2000
	maxMapLine  = 1000 // bytes
	maxMapFlow  = 4000 // brackets, braces and commas outside comment lines
)

// readYAML returns the file's one mapping, or nil after adding what is wrong.
func readYAML(r io.Reader, e *FileError) (*ast.MappingNode, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxMapBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read mapping %s: %w", e.File, err)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	if boundMap(e, data); len(e.Problems) > 0 {
		return nil, nil
	}
	return parseMap(e, data), nil
}

func boundMap(e *FileError, data []byte) {
	if len(data) > maxMapBytes {
		e.add(0, "", "larger than %d KB; a mapping is a page of text", maxMapBytes>>10)
		return
	}
	flow := 0
	for i, line := range bytes.Split(data, []byte("\n")) {
		if !bytes.HasPrefix(bytes.TrimSpace(line), []byte("#")) {
			flow += bytes.Count(line, []byte("[")) + bytes.Count(line, []byte("{")) + bytes.Count(line, []byte(","))
		}
		what := ""
		switch {
		case i >= maxMapLines:
			what = fmt.Sprintf("more than %d lines; a mapping is a page of text", maxMapLines)
		case len(line) > maxMapLine:
			what = fmt.Sprintf("a line of more than %d characters", maxMapLine)
		case flow > maxMapFlow:
			what = "more brackets and commas than a mapping can need"
		case !utf8.Valid(line):
			what = "not UTF-8 text; save the file as UTF-8"
		case bytes.IndexByte(line, 0) >= 0:
			what = "holds a zero byte; this is no text file"
		}
		if what != "" {
			e.add(i+1, "", "%s", what)
			return
		}
	}
}

func parseMap(e *FileError, data []byte) *ast.MappingNode {
	// The parser is not ours and reads what people send: a panic in it is a
	// file that cannot be read, no reason to end the program.
	defer func() {
		if p := recover(); p != nil {
			e.add(0, "", "cannot be read as YAML")
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
		e.add(line, "", "not YAML: %s", what)
		return nil
	}
	var top ast.Node
	for _, d := range doc.Docs {
		switch {
		case d.Body == nil:
		case top != nil:
			e.add(nodeLine(d.Body), "", "a second document; one file holds one mapping")
			return nil
		default:
			top = d.Body
		}
	}
	m, ok := top.(*ast.MappingNode)
	if !ok {
		e.add(max(1, nodeLine(top)), "", "a mapping begins with the keys horse:, visit: and columns:")
	}
	return m
}

// nodeLine is the line that a node begins on, 0 where that is not known.
func nodeLine(n ast.Node) int {
	if n == nil {
		return 0
	}
	if token := n.GetToken(); token != nil && token.Position != nil {
		return token.Position.Line
	}
	return 0
}

// nodeText is a plain value as text; false for lists, maps, nothing and aliases.
func nodeText(n ast.Node) (string, bool) {
	switch n := n.(type) {
	case *ast.StringNode:
		return n.Value, true
	case *ast.LiteralNode:
		return n.Value.Value, true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode, *ast.NullNode:
		return n.GetToken().Value, true
	default:
		return "", false
	}
}
