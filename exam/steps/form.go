package steps

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
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
	*FileError
	table *exam.Steps
	seen  map[exam.Key]int // place -> line
}

func (f *form) read(top *ast.MappingNode, own *exam.Routine) {
	stepsAt, nameAt := 0, 0
	for _, pair := range top.Values {
		key, _ := textOf(pair.Key)
		line := lineOf(pair.Key)
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
			f.add(line, "%s is no key of a routine; it has name, title, about, steps", quote(key))
		}
	}
	f.name(nameAt, own)
	if stepsAt == 0 {
		f.add(0, "no steps: key; a routine needs at least one step")
	}
	f.pairs(own.Asks)
}

// name checks the name and makes a title of it where none was given.
func (f *form) name(line int, own *exam.Routine) {
	if line == 0 {
		f.add(0, "no name: key; write one such as name: yard-round")
		return
	}
	if !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(own.Name) {
		f.add(line, "a name is lower-case letters and digits joined by hyphens, such as yard-round")
		return
	}
	if _, taken := Find(Routines(), own.Name); taken {
		f.add(line, "%s is the name of a built-in routine; choose another, such as my-%s", own.Name, own.Name)
	}
	if own.Title == "" {
		words := strings.ReplaceAll(own.Name, "-", " ")
		own.Title = ansi.Truncate(strings.ToUpper(words[:1])+words[1:], maxTitle, "")
	}
}

// text reads a plain value of at most so many columns, made safe to draw.
func (f *form) text(pair *ast.MappingValueNode, columns int) string {
	key, _ := textOf(pair.Key)
	raw, ok := textOf(pair.Value)
	if !ok {
		f.add(lineOf(pair.Key), "%s: takes one line of text", key)
		return ""
	}
	text := exam.CleanLine(raw, 0)
	if w := ansi.StringWidth(text); w > columns {
		f.add(lineOf(pair.Key), "%s: is %d columns wide, there is room for %d", key, w, columns)
	}
	return text
}

func (f *form) asks(pair *ast.MappingValueNode) []exam.Ask {
	list, ok := pair.Value.(*ast.SequenceNode)
	if !ok || len(list.Values) == 0 {
		f.add(lineOf(pair.Key), "steps: takes a list, one step a line after a hyphen")
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
	line := lineOf(n)
	if id, ok := textOf(n); ok {
		return f.place(line, id, nil, "")
	}
	m, ok := n.(*ast.MappingNode)
	if !ok {
		f.add(line, "a step is written as its name, or as step:, sites: and heading:")
		return exam.Ask{}, false
	}
	var id, heading string
	var sites []string
	good := true
	for _, pair := range m.Values {
		key, _ := textOf(pair.Key)
		switch key {
		case "step":
			id, line = f.text(pair, maxAbout), lineOf(pair.Key)
		case "heading":
			heading = f.text(pair, maxHeading)
		case "sites":
			sites, ok = f.sites(pair)
			good = good && ok
		default:
			f.add(lineOf(pair.Key), "%s is no key of a step; it has step, sites, heading", quote(key))
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
	if one, ok := textOf(pair.Value); ok {
		return []string{exam.CleanLine(one, 40)}, true
	}
	list, ok := pair.Value.(*ast.SequenceNode)
	if !ok || len(list.Values) == 0 {
		f.add(lineOf(pair.Key), "sites: takes a list such as [left, right]; leave it out for all sites")
		return nil, false
	}
	var sites []string
	for _, n := range list.Values {
		site, ok := textOf(n)
		if !ok {
			f.add(lineOf(n), "a site is written in words, such as left upper")
			return nil, false
		}
		sites = append(sites, exam.CleanLine(site, 40))
	}
	return sites, true
}

// place checks the step and its sites against the table, and that no place is
// asked twice.
func (f *form) place(line int, id string, sites []string, heading string) (exam.Ask, bool) {
	s, ok := f.table.ByID(exam.StepID(strings.TrimSpace(id)))
	if !ok {
		f.unknown(line, id)
		return exam.Ask{}, false
	}
	a := exam.Ask{Step: s.ID, Heading: heading}
	for _, site := range sites {
		if !s.HasSite(exam.Site(site)) || site == "" {
			f.add(line, "%s", noSite(s, site))
			return exam.Ask{}, false
		}
		a.Sites = append(a.Sites, exam.Site(site))
	}
	switch {
	case len(sites) > 0:
	case len(s.Sites) == 0:
		a.Sites = []exam.Site{exam.NoSite}
	default:
		a.Sites = slices.Clone(s.Sites)
	}
	for _, k := range a.Keys() {
		if first, twice := f.seen[k]; twice {
			f.add(line, "%s is asked twice (first on line %d)", placeWords(k), first)
			continue
		}
		f.seen[k] = line
	}
	return a, true
}

func (f *form) unknown(line int, id string) {
	if strings.TrimSpace(id) == "" {
		f.add(line, "an item without a step")
		return
	}
	if near, ok := nearest(f.table, id); ok {
		f.add(line, "%s is no step; did you mean %s?", quote(id), near)
		return
	}
	f.add(line, "%s is no step; a step is named as in the full exam", quote(id))
}

// pairs finds sides whose other side is never asked, and overall beside a site.
func (f *form) pairs(asks []exam.Ask) {
	for _, a := range asks {
		overall, both := f.seen[exam.Key{Step: a.Step, Site: exam.Overall}]
		for _, k := range a.Keys() {
			line := f.seen[k]
			if both && k.Site != exam.Overall {
				f.add(max(line, overall), "%s is asked overall and at the %s; keep one of the two", k.Step, k.Site)
			}
			other, paired := opposite(k.Site)
			if !paired {
				continue
			}
			if _, ok := f.seen[exam.Key{Step: k.Step, Site: other}]; !ok {
				f.add(line, "%s is asked at the %s but never at the %s", k.Step, k.Site, other)
			}
		}
	}
}

// opposite is the same site on the horse's other side.
func opposite(site exam.Site) (exam.Site, bool) {
	if rest, ok := strings.CutPrefix(string(site), string(exam.Left)); ok {
		return exam.Right + exam.Site(rest), true
	}
	if rest, ok := strings.CutPrefix(string(site), string(exam.Right)); ok {
		return exam.Left + exam.Site(rest), true
	}
	return exam.NoSite, false
}

func placeWords(k exam.Key) string {
	if k.Site == exam.NoSite {
		return string(k.Step)
	}
	return fmt.Sprintf("%s at the %s", k.Step, k.Site)
}

func noSite(s exam.Step, typed string) string {
	if len(s.Sites) == 0 {
		return fmt.Sprintf("%s has no sites; leave sites: out", s.ID)
	}
	own := make([]string, len(s.Sites))
	for i, site := range s.Sites {
		own[i] = string(site)
	}
	if s.OneForAll {
		own = append(own, string(exam.Overall))
	}
	return fmt.Sprintf("%s has no site %s; it has %s", s.ID, quote(typed), strings.Join(own, ", "))
}
