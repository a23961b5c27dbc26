package routinefile

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

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
			f.Add(line, "%s", noSite(s, site))
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
			f.Add(line, "%s is asked twice (first on line %d)", placeWords(k), first)
			continue
		}
		f.seen[k] = line
	}
	return a, true
}

func (f *form) unknown(line int, id string) {
	if strings.TrimSpace(id) == "" {
		f.Add(line, "an item without a step")
		return
	}
	if near, ok := nearest(f.table, id); ok {
		f.Add(line, "%s is no step; did you mean %s?", ownfile.Quote(id), near)
		return
	}
	f.Add(line, "%s is no step; a step is named as in the full exam", ownfile.Quote(id))
}

// pairs finds sides whose other side is never asked, and overall beside a site.
func (f *form) pairs(asks []exam.Ask) {
	for _, a := range asks {
		overall, both := f.seen[exam.Key{Step: a.Step, Site: exam.Overall}]
		for _, k := range a.Keys() {
			line := f.seen[k]
			if both && k.Site != exam.Overall {
				f.Add(max(line, overall), "%s is asked overall and at the %s; keep one of the two", k.Step, k.Site)
			}
			other, paired := opposite(k.Site)
			if !paired {
				continue
			}
			if _, ok := f.seen[exam.Key{Step: k.Step, Site: other}]; !ok {
				f.Add(line, "%s is asked at the %s but never at the %s", k.Step, k.Site, other)
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
	return fmt.Sprintf("%s has no site %s; it has %s", s.ID, ownfile.Quote(typed), strings.Join(own, ", "))
}
