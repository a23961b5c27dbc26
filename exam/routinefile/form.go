package routinefile

import (
	"regexp"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
	"loosebox/exam/steps"
)

// Widths that the screens have room for, in columns.
const (
	maxName    = 40
	maxTitle   = 30
	maxAbout   = 72
	maxHeading = 18
)

// form reads the parsed file into a routine and keeps what is wrong with it.
type form struct {
	*ownfile.FileError
	table *exam.Steps
	seen  map[exam.Key]int // place -> line
}

func (f *form) read(top *ast.MappingNode, own *exam.Routine) {
	stepsAt, nameAt := 0, 0
	for _, pair := range top.Values {
		key, _ := ownfile.TextOf(pair.Key)
		line := ownfile.LineOf(pair.Key)
		switch key {
		case "name":
			nameAt, own.Name = line, f.text(pair, maxName)
		case "title":
			own.Title = f.text(pair, maxTitle)
		case "about":
			own.About = f.text(pair, maxAbout)
		case "steps":
			stepsAt = line
			own.Asks = f.asks(pair)
		default:
			f.Add(line, "%s is no key of a routine; it has name, title, about, steps", ownfile.Quote(key))
		}
	}
	f.name(nameAt, own)
	if stepsAt == 0 {
		f.Add(0, "no steps: key; a routine needs at least one step")
	}
	f.pairs(own.Asks)
}

// name checks the name and makes a title of it where none was given.
func (f *form) name(line int, own *exam.Routine) {
	if line == 0 {
		f.Add(0, "no name: key; write one such as name: yard-round")
		return
	}
	if !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(own.Name) {
		f.Add(line, "a name is lower-case letters and digits joined by hyphens, such as yard-round")
		return
	}
	if _, taken := steps.Find(steps.Routines(), own.Name); taken {
		f.Add(line, "%s is the name of a built-in routine; choose another, such as my-%s", own.Name, own.Name)
	}
	if own.Title == "" {
		words := strings.ReplaceAll(own.Name, "-", " ")
		own.Title = ansi.Truncate(notation.Capital(words), maxTitle, "")
	}
}

// text reads a plain value of at most so many columns, made safe to draw.
func (f *form) text(pair *ast.MappingValueNode, columns int) string {
	key, _ := ownfile.TextOf(pair.Key)
	raw, ok := ownfile.TextOf(pair.Value)
	if !ok {
		f.Add(ownfile.LineOf(pair.Key), "%s: takes one line of text", key)
		return ""
	}
	text := notation.CleanLine(raw, 0)
	if w := ansi.StringWidth(text); w > columns {
		f.Add(ownfile.LineOf(pair.Key), "%s: is %d columns wide, there is room for %d", key, w, columns)
	}
	return text
}

func (f *form) asks(pair *ast.MappingValueNode) []exam.Ask {
	list, ok := pair.Value.(*ast.SequenceNode)
	if !ok || len(list.Values) == 0 {
		f.Add(ownfile.LineOf(pair.Key), "steps: takes a list, one step a line after a hyphen")
		return nil
	}
	var asks []exam.Ask
	for _, n := range list.Values {
		if a, ok := f.ask(n); ok {
			asks = append(asks, a)
		}
	}
	return asks
}

// ask reads one item of the list: a step alone, or a map of step, sites, heading.
func (f *form) ask(n ast.Node) (exam.Ask, bool) {
	line := ownfile.LineOf(n)
	if id, ok := ownfile.TextOf(n); ok {
		return f.place(line, id, nil, "")
	}
	m, ok := n.(*ast.MappingNode)
	if !ok {
		f.Add(line, "a step is written as its name, or as step:, sites: and heading:")
		return exam.Ask{}, false
	}
	var id, heading string
	var sites []string
	good := true
	for _, pair := range m.Values {
		key, _ := ownfile.TextOf(pair.Key)
		switch key {
		case "step":
			id, line = f.text(pair, maxAbout), ownfile.LineOf(pair.Key)
		case "heading":
			heading = f.text(pair, maxHeading)
		case "sites":
			sites, ok = f.sites(pair)
			good = good && ok
		default:
			f.Add(ownfile.LineOf(pair.Key), "%s is no key of a step; it has step, sites, heading", ownfile.Quote(key))
			good = false
		}
	}
	if !good {
		return exam.Ask{}, false
	}
	return f.place(line, id, sites, heading)
}

// sites reads one site or a list of them.
func (f *form) sites(pair *ast.MappingValueNode) ([]string, bool) {
	if one, ok := ownfile.TextOf(pair.Value); ok {
		return []string{notation.CleanLine(one, 40)}, true
	}
	list, ok := pair.Value.(*ast.SequenceNode)
	if !ok || len(list.Values) == 0 {
		f.Add(ownfile.LineOf(pair.Key), "sites: takes a list such as [left, right]; leave it out for all sites")
		return nil, false
	}
	var sites []string
	for _, n := range list.Values {
		site, ok := ownfile.TextOf(n)
		if !ok {
			f.Add(ownfile.LineOf(n), "a site is written in words, such as left upper")
			return nil, false
		}
		sites = append(sites, notation.CleanLine(site, 40))
	}
	return sites, true
}
