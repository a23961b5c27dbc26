package rehearse

import (
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// truth reads what is true of the horse, place by place.
func (f *form) truth(pair *ast.MappingValueNode) {
	m := f.mapping(pair)
	if m == nil {
		return
	}
	for _, p := range m.Values {
		line := ownfile.LineOf(p.Key)
		place, _ := ownfile.TextOf(p.Key)
		step, keys, ok := f.place(line, place)
		if !ok {
			continue
		}
		text, ok := ownfile.TextOf(p.Value)
		if !ok {
			f.Add(line, "%s: takes the answer as it would be typed", place)
			continue
		}
		g, err := given(step, text)
		if err != nil {
			f.Add(line, "%s: %s", place, err)
			continue
		}
		for _, key := range g.Value.Words {
			if c, _ := step.Choice(key); f.known != nil && !c.Fits(f.c.Horse.Sex) { // no screen offers it to answer with
				f.Add(line, "%s: %q cannot be of a %s", place, c.Words, f.c.Horse.Sex)
			}
		}
		for _, k := range keys {
			f.c.Given[k] = g
		}
	}
}

// given reads an answer, or a span of numbers to draw from.
func given(step exam.Step, text string) (CaseAnswer, error) {
	span := regexp.MustCompile(`^(\d+(?:\.\d+)?) to (\d+(?:\.\d+)?)$`).FindStringSubmatch(strings.TrimSpace(text))
	if span != nil && step.Unit != notation.NoUnit {
		low, _ := strconv.ParseFloat(span[1], 64)
		high, _ := strconv.ParseFloat(span[2], 64)
		switch {
		case high < low:
			return CaseAnswer{}, errors.New("a span runs from the smaller to the larger number")
		case !step.Possible.Contains(low) || !step.Possible.Contains(high):
			return CaseAnswer{}, errors.New("the span holds numbers that are not possible in " + string(step.Unit))
		}
		return CaseAnswer{Spread: true, Low: low, High: high}, nil
	}
	v, err := step.ReadAnswer(text, step.Unit)
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return CaseAnswer{}, err
	}
	v.Typed, v.Usual = "", false
	if step.Kind == exam.KindNote {
		return CaseAnswer{}, errors.New("a note has no truth")
	}
	for _, key := range v.Words {
		if slices.Contains(step.Shows.Never, key) {
			return CaseAnswer{}, errors.New("an examiner can be unsure, a horse cannot")
		}
	}
	if n, ok := v.In(step.Unit); ok && step.Kind != exam.KindScale {
		v.Number = &notation.Quantity{Value: n, Unit: step.Unit}
	}
	v.Count = nil
	return CaseAnswer{Value: v}, nil
}

// place reads step or step:site; a step with sites written alone stands for all of them.
func (f *form) place(line int, text string) (exam.Step, []exam.Key, bool) {
	id, site, sited := strings.Cut(text, ":")
	step, ok := f.table.ByID(exam.StepID(id))
	if !ok {
		f.Add(line, "%s is no step", ownfile.Quote(id))
		return step, nil, false
	}
	if sited {
		k := exam.Key{Step: step.ID, Site: exam.Site(site)}
		if !step.HasSite(k.Site) || k.Site == exam.Overall || k.Site == exam.NoSite {
			f.Add(line, "%s has no site %s", id, ownfile.Quote(site))
			return step, nil, false
		}
		return step, []exam.Key{k}, true
	}
	return step, placesOf(step), true
}

// placesOf lists the places of a step.
func placesOf(step exam.Step) []exam.Key {
	if len(step.Sites) == 0 {
		return []exam.Key{{Step: step.ID}}
	}
	keys := make([]exam.Key, len(step.Sites))
	for i, site := range step.Sites {
		keys[i] = exam.Key{Step: step.ID, Site: site}
	}
	return keys
}

// ownSights reads the teacher's own words for what is seen, heard or felt.
func (f *form) ownSights(pair *ast.MappingValueNode) {
	m := f.mapping(pair)
	if m == nil {
		return
	}
	for _, p := range m.Values {
		place, _ := ownfile.TextOf(p.Key)
		_, keys, ok := f.place(ownfile.LineOf(p.Key), place)
		text := f.text(p, maxText)
		for _, k := range keys {
			if ok {
				f.c.Seen[k] = text
			}
		}
	}
}

// reasonKeys are the reasons as a file of a case has them.
func reasonKeys() string {
	var keys []string
	for _, r := range exam.Reasons() {
		keys = append(keys, string(r))
	}
	return strings.Join(keys, ", ")
}

// excused reads the places that cannot be examined on this horse, each with the reason that holds.
func (f *form) excused(pair *ast.MappingValueNode) {
	m := f.mapping(pair)
	if m == nil {
		return
	}
	for _, p := range m.Values {
		place, _ := ownfile.TextOf(p.Key)
		_, keys, ok := f.place(ownfile.LineOf(p.Key), place)
		text, _ := ownfile.TextOf(p.Value)
		reason := exam.Reason(text)
		if !slices.Contains(exam.Reasons(), reason) {
			f.Add(ownfile.LineOf(p.Key), "%s: takes one of %s", place, reasonKeys())
			continue
		}
		for _, k := range keys {
			if ok {
				f.c.Excused[k] = reason
			}
		}
	}
}

// listed reads the places under find: and tell:, each of which truth must give.
func (f *form) listed(pair *ast.MappingValueNode) []exam.Key {
	if pair == nil {
		return nil
	}
	seq, ok := pair.Value.(*ast.SequenceNode)
	if !ok {
		f.Add(ownfile.LineOf(pair.Key), "takes a list of places, one a line after a hyphen")
		return nil
	}
	var out []exam.Key
	for _, n := range seq.Values {
		text, _ := ownfile.TextOf(n)
		_, keys, ok := f.place(ownfile.LineOf(n), text)
		for _, k := range keys {
			if _, told := f.c.Given[k]; ok && !told {
				f.Add(ownfile.LineOf(n), "%s is to be found, but truth: does not give it", text)
				break
			}
		}
		out = union(out, keys)
	}
	return out
}
