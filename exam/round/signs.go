package round

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
)

// SignDays is for how long a sign that may be catching counts after it was last
// seen: 28 days are given for EHV-1 where signs were present (a page that cites
// AAEP and USDA; second-hand).
const SignDays = 28

// sign is a finding that may be catching.
type sign struct {
	step  exam.StepID
	keys  []string // any of them
	fever []string // these only beside a fever
	words string
}

// signs: fever with cough, discharge, large nodes, loose manure, abortion or
// ataxia makes a horse the last of the round (exam values, section 12.4).
func signs() []sign {
	return []sign{
		{"cough", []string{"some", "fits"}, []string{"single"}, "cough"},
		{"nose.discharge", []string{"mucus", "pus"}, []string{"streaks"}, "discharge at the nose"},
		{"node.jaw", []string{"large", "sore", "burst", "throat"}, nil, "swollen nodes"},
		{"manure", []string{"cowpat", "watery"}, nil, "loose manure"},
		{"udder.sheath", []string{"pregnant"}, nil, "discharge in a mare in foal"},
		{"gait.look", nil, []string{"sways"}, "unsteady"},
		{"posture", nil, []string{"wide"}, "unsteady"},
	}
}

// seen is a sign as it was last seen.
type seen struct {
	words     string
	onlyFever bool
}

// found is everything that may be catching in the visits of the last weeks.
type found struct {
	hot  string // the fever in words
	list []seen
}

func (f found) fever() string { return f.hot }

// others are the signs that count beside a fever, alone those that count by themselves.
func (f found) others() []string { return f.words(true) }
func (f found) alone() []string  { return f.words(false) }

func (f found) words(beside bool) []string {
	var out []string
	for _, s := range f.list {
		if (beside || !s.onlyFever) && !slices.Contains(out, s.words) {
			out = append(out, s.words)
		}
	}
	return out
}

// recent are the visits that count, the newest first.
func (p *plan) recent() []exam.Visit {
	var out []exam.Visit
	for i := range p.Visits {
		v := &p.Visits[i]
		if dayOf(v.OpenedAt) <= p.day && p.at.AddDate(0, 0, -SignDays).Before(v.OpenedAt) {
			out = append(out, *v)
		}
	}
	slices.SortFunc(out, func(a, b exam.Visit) int { return b.OpenedAt.Compare(a.OpenedAt) })
	return out
}

func (p *plan) signs() found {
	var f found
	since := ""
	for _, v := range p.recent() {
		on := notation.ShownOn(v.OpenedAt, p.at)
		if t, ok := v.Finding(exam.Key{Step: "temp.rectal"}); ok && f.hot == "" {
			if q := t.Value.Number; q != nil && judge.Fever(v.Class().Name, *q) {
				f.hot = fmt.Sprintf("fever %s on %s%s%s", q.Text(1), on, stirred(v), since)
			} else if q != nil && since == "" {
				since = fmt.Sprintf(", %s on %s", q.Text(1), on)
			}
		}
		for _, s := range signs() {
			f.add(s, v, on)
		}
	}
	return f
}

// stirred says that a temperature was taken of a horse that was not at rest.
func stirred(v exam.Visit) string {
	var states []string
	for _, s := range v.Context.NotAtRest() {
		states = append(states, s.String())
	}
	if len(states) == 0 {
		return ""
	}
	return " (" + strings.Join(states, ", ") + ")"
}

func (f *found) add(s sign, v exam.Visit, on string) {
	words := s.words + " on " + on
	for _, x := range v.Findings {
		if x.Step != s.step {
			continue
		}
		has := func(keys []string) bool { return slices.ContainsFunc(keys, x.Value.Has) }
		switch {
		case has(s.keys):
			f.list = append(f.list, seen{words, false})
		case has(s.fever):
			f.list = append(f.list, seen{words, true})
		}
	}
}

// infected is what somebody wrote that says so: a caution of the horse, the reason
// of a visit or the words of a decision in the last weeks. No finding makes it.
func (p *plan) infected() string {
	for _, c := range p.Horse.Cautions {
		if catching(c) {
			return "caution: " + c
		}
	}
	for _, v := range p.recent() {
		for _, d := range slices.Backward(v.Decisions) {
			if !d.Corrected && catching(d.Words) {
				return fmt.Sprintf("%s on %s: %s", d.Vet, notation.ShownOn(d.At, p.at), d.Words)
			}
		}
		if catching(v.Reason) {
			return fmt.Sprintf("reason of the visit of %s: %s", notation.ShownOn(v.OpenedAt, p.at), v.Reason)
		}
	}
	return ""
}

// catching says that a text holds a word by which people say that a horse is
// infected or kept apart; a text about a vaccination is none. A word too many puts
// a horse last, which harms nobody; a person may put it back in its place.
func catching(text string) bool {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9') })
	begins := func(list []string) bool {
		return slices.ContainsFunc(words, func(w string) bool {
			return slices.ContainsFunc(list, func(begin string) bool { return strings.HasPrefix(w, begin) })
		})
	}
	if begins([]string{"vaccin", "booster", "jab"}) {
		return false
	}
	return begins(catchingWords()) || slices.ContainsFunc(words, func(w string) bool { return slices.Contains([]string{"flu", "ehv", "ehv1", "mrsa"}, w) })
}

// catchingWords begin such words. The infections are those that the facts name as
// catching from horse to horse or from horse to man.
func catchingWords() []string {
	return []string{
		"infect", "contagious", "isolat", "quarantin", "strangles", "influenza", "herpes", "salmonell", "ringworm", "rotavirus",
		"rhodococc", "leptospir", "cryptosporid", "anthrax", "brucell",
	}
}
