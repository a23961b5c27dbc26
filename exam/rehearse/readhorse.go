package rehearse

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

func (f *form) horse(pair *ast.MappingValueNode) {
	m := f.mapping(pair)
	if m == nil {
		return
	}
	h, aged := &f.c.Horse, false
	h.Kind, h.Sex = exam.AnimalHorse, exam.SexUnknown
	for _, p := range m.Values {
		key, _ := ownfile.TextOf(p.Key)
		switch key {
		case "name":
			h.Name = f.text(p, maxTitle)
		case "kind":
			h.Kind = oneOf(f, p, exam.Animals())
		case "sex":
			h.Sex = oneOf(f, p, exam.Sexes())
		case "age":
			aged = true
			a, err := readAge(f.text(p, maxTitle))
			if err != nil {
				f.Add(ownfile.LineOf(p.Key), "%s", err)
			}
			f.c.Age = a
		case "breed":
			h.Breed = f.text(p, maxTitle)
		case "colour":
			h.Colour = f.text(p, maxTitle)
		case "markings":
			h.Markings = f.text(p, maxAbout)
		case "place":
			h.Place = f.text(p, maxAbout)
		case "cautions":
			h.Cautions = f.texts(p)
		default:
			f.Add(ownfile.LineOf(p.Key), "%s is no key of a horse", ownfile.Quote(key))
		}
	}
	if h.Name == "" || !aged {
		f.Add(ownfile.LineOf(pair.Key), "a horse needs name: and age:")
	}
}

func (f *form) name(pair *ast.MappingValueNode) string {
	text, _ := ownfile.TextOf(pair.Value)
	if !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(text) || len(text) > 40 {
		f.Add(ownfile.LineOf(pair.Key), "a name is lower-case letters and digits joined by hyphens, such as quiet-mare")
	}
	if f.known == nil {
		return text
	}
	if c, taken := CaseNamed(f.known.Cases, text); taken {
		f.Add(ownfile.LineOf(pair.Key), "the name %s belongs to the case %q; give this one its own", ownfile.Quote(text), c.Title)
	}
	return text
}

// routine is the name of a routine that is there.
func (f *form) routine(pair *ast.MappingValueNode) string {
	text := f.text(pair, maxAbout)
	if f.known == nil || text == "" {
		return text
	}
	names := make([]string, len(f.known.Routines))
	for i, r := range f.known.Routines {
		if names[i] = r.Name; r.Name == text {
			return text
		}
	}
	f.Add(ownfile.LineOf(pair.Key), "no routine is called %s; there are: %s", ownfile.Quote(text), strings.Join(names, ", "))
	return text
}

// text reads a plain value of at most so many columns, made safe to draw.
func (f *form) text(pair *ast.MappingValueNode, columns int) string {
	key, _ := ownfile.TextOf(pair.Key)
	raw, ok := ownfile.TextOf(pair.Value)
	text := notation.CleanLine(raw, 0)
	switch {
	case !ok || text == "":
		f.Add(ownfile.LineOf(pair.Key), "%s: takes one line of text", key)
	case ansi.StringWidth(text) > columns:
		f.Add(ownfile.LineOf(pair.Key), "%s: is %d columns wide, there is room for %d", key, ansi.StringWidth(text), columns)
	}
	return text
}

// texts reads one text or a list of them.
func (f *form) texts(pair *ast.MappingValueNode) []string {
	if one, ok := ownfile.TextOf(pair.Value); ok {
		return []string{notation.CleanLine(one, 0)}
	}
	key, _ := ownfile.TextOf(pair.Key)
	seq, ok := pair.Value.(*ast.SequenceNode)
	if !ok {
		f.Add(ownfile.LineOf(pair.Key), "%s: takes a list such as [kicks, bites]", key)
		return nil
	}
	var out []string
	for _, n := range seq.Values {
		text, ok := ownfile.TextOf(n)
		if !ok || notation.CleanLine(text, 0) == "" {
			f.Add(ownfile.LineOf(n), "%s: takes words, one an item", key)
			continue
		}
		out = append(out, notation.CleanLine(text, 0))
	}
	return out
}

func (f *form) whole(pair *ast.MappingValueNode, low, high int) int {
	text, _ := ownfile.TextOf(pair.Value)
	n, err := strconv.Atoi(text)
	if err != nil || n < low || n > high {
		key, _ := ownfile.TextOf(pair.Key)
		f.Add(ownfile.LineOf(pair.Key), "%s: takes a whole number from %d to %d", key, low, high)
		return low
	}
	return n
}

// milestones reads minutes from the birth, by event.
func (f *form) milestones(pair *ast.MappingValueNode) {
	m := f.mapping(pair)
	if m == nil {
		return
	}
	f.c.Milestones = map[string]time.Duration{}
	for _, p := range m.Values {
		name, _ := ownfile.TextOf(p.Key)
		if !isMilestone(name) {
			f.Add(ownfile.LineOf(p.Key), "%s is no milestone; there are %s", ownfile.Quote(name), list(milestoneNames()))
			continue
		}
		f.c.Milestones[name] = time.Duration(f.whole(p, 1, 1440)) * time.Minute
	}
}

func (f *form) mapping(pair *ast.MappingValueNode) *ast.MappingNode {
	m, ok := pair.Value.(*ast.MappingNode)
	if !ok {
		key, _ := ownfile.TextOf(pair.Key)
		f.Add(ownfile.LineOf(pair.Key), "%s: takes lines of key: value, indented", key)
		return nil
	}
	return m
}

// teaching reads the list of points, each with a source that the range tables know.
func (f *form) teaching(pair *ast.MappingValueNode) {
	seq, ok := pair.Value.(*ast.SequenceNode)
	if !ok || len(seq.Values) == 0 {
		f.Add(ownfile.LineOf(pair.Key), "teaching: takes a list of text: and source:")
		return
	}
	for _, n := range seq.Values {
		m, ok := n.(*ast.MappingNode)
		if !ok {
			f.Add(ownfile.LineOf(n), "a teaching point has text: and source:")
			continue
		}
		var p TeachingPoint
		for _, v := range m.Values {
			switch key, _ := ownfile.TextOf(v.Key); key {
			case "text":
				p.Text = f.text(v, maxText)
			case "source":
				p.Source = f.text(v, maxTitle)
			default:
				f.Add(ownfile.LineOf(v.Key), "%s is no key of a teaching point; it has text and source", ownfile.Quote(key))
			}
		}
		if _, known := f.held.Source(p.Source); !known {
			f.Add(ownfile.LineOf(n), "%s is no source of the range tables; the command ranges lists them", ownfile.Quote(p.Source))
		}
		f.c.Teaching = append(f.c.Teaching, p)
	}
}
