package intake

import (
	"io"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam/ownfile"
)

// mapFile says what a mapping file is and bounds it.
func mapFile() ownfile.FileKind {
	return ownfile.FileKind{
		Noun: "mapping", Pages: "a page of text", Begins: "begins with the keys horse:, visit: and columns:",
		Bytes: 256 << 10, Lines: 2000, Columns: 1000, Flow: 4000,
	}
}

// readYAML returns the file's one mapping, or nil after adding what is wrong.
func readYAML(r io.Reader, e *FileError) (*ast.MappingNode, error) {
	found := ownfile.New(e.File, mapFile())
	data, err := ownfile.Read(r, found)
	if err != nil {
		return nil, err
	}
	var top *ast.MappingNode
	if len(found.Problems) == 0 {
		top = ownfile.Parse(found, data)
	}
	for _, p := range found.Problems {
		e.AddAt(max(1, p.Line), "", "%s", p.What)
	}
	return top, nil
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
