package intake

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// place is a step at a site that a column holds.
type place struct {
	step exam.Step
	site exam.Site
}

func (p place) key() exam.Key { return exam.Key{Step: p.step.ID, Site: p.site} }

// readPlace reads "heart.rate" or "gut.sounds:left upper". A step with sites
// that allows one answer for all of them may stand alone. The second result is
// what is wrong, empty where nothing is.
func readPlace(steps *exam.Steps, text string) (place, string) {
	id, site, sided := strings.Cut(strings.ToLower(notation.CleanLine(text, 80)), ":")
	step, ok := steps.ByID(exam.StepID(strings.TrimSpace(id)))
	if !ok {
		return place{}, fmt.Sprintf("no step has the identity %s%s", ownfile.Quote(id), orMeant(id, identities(steps)))
	}
	p := place{step, exam.Site(strings.TrimSpace(site))}
	switch {
	case !sided && step.OneForAll:
		p.site = exam.Overall
	case step.HasSite(p.site) && sided == (len(step.Sites) > 0):
	case len(step.Sites) == 0:
		return place{}, fmt.Sprintf("%s is a step without sites; write %s alone", step.ID, step.ID)
	default:
		words := make([]string, 0, len(step.Sites)+1)
		for _, s := range step.Sites {
			words = append(words, string(s))
		}
		if step.OneForAll {
			words = append(words, string(exam.Overall))
		}
		return place{}, fmt.Sprintf("%s needs a site after a colon: %s%s", step.ID, strings.Join(words, ", "), orMeant(site, words))
	}
	return p, ""
}

func identities(steps *exam.Steps) []string {
	out := make([]string, 0, len(steps.All()))
	for _, s := range steps.All() {
		out = append(out, string(s.ID))
	}
	return out
}
