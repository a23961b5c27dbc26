package intake

import (
	"strings"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam/intake/charset"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// file reads what the mapping says of the file itself.
func (f *mapForm) file(n ast.Node) {
	for _, pair := range f.pairs(n, "file") {
		key, _ := nodeText(pair.Key)
		text := f.text(pair.Value, key)
		switch key {
		case "charset":
			name, ok := charset.Named(text)
			if !ok {
				f.Add(ownfile.LineOf(pair.Value), "%s is no character set that is known here; it is one of %s", ownfile.Quote(text), joined(charset.Names()))
			}
			f.m.How.Charset = name
		case "sheet":
			f.m.How.Sheet = text
		default:
			f.Add(ownfile.LineOf(pair.Key), "%s is nothing that is said of a file; charset and sheet are", ownfile.Quote(key))
		}
	}
}

// spellings reads whose a name is that the file has.
func (f *mapForm) spellings(n ast.Node) {
	for _, pair := range f.pairs(n, "horses") {
		name, ok := nodeText(pair.Key)
		name = notation.CleanLine(name, 0)
		if !ok || name == "" {
			f.Add(ownfile.LineOf(pair.Key), "horses: a name as the file has it, and the name that it stands for")
			continue
		}
		f.m.spelled[strings.ToLower(name)] = f.text(pair.Value, ownfile.Quote(name))
	}
}
