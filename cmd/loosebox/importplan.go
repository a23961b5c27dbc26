package main

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/intake"
)

// importPlan is a sheet set beside the record: what comes in, what is there already, what does not come in.
type importPlan struct {
	*intake.Result
	groups       []plannedHorse
	fresh, known int // horses with a visit that comes in: new, and in the record already
	visits       int // that come in
	passed       int // visits that are in the record already
	changed      []changedVisit
	bad          []intake.BadRow
}

// plannedHorse is a horse with the numbers of its exams that come in.
type plannedHorse struct {
	horse exam.Horse // as it is stored; without an identity where it is new
	exams []int
}

// changedVisit is a row whose visit the record has with other content.
type changedVisit struct {
	Line   int      `json:"line"`
	Horse  string   `json:"horse"`
	At     string   `json:"at"`
	Differ []string `json:"differ"`
}

// planImport sets the exams beside the record, which may be nil for none.
func planImport(store exam.Store, r *intake.Result, answered func(string) bool, steps *exam.Steps) (*importPlan, error) {
	p := &importPlan{Result: r}
	var all []exam.Found
	if store != nil {
		var err error
		if all, err = store.Horses(); err != nil {
			return nil, err
		}
		r.Doubt(againstRecord(all, r, answered))
	}
	p.bad = append(p.bad, r.Bad...)
	for _, group := range r.ByHorse() {
		held, ok, why := knownHorse(all, group.Horse)
		if why != "" {
			p.bad = append(p.bad, r.Refuse(group.Exams, "", why)...)
			continue
		}
		one := plannedHorse{horse: group.Horse, exams: group.Exams}
		if ok {
			one.horse = held
			if err := p.match(store, &one, steps); err != nil {
				return nil, err
			}
		}
		if len(one.exams) == 0 {
			continue
		}
		if ok {
			p.known++
		} else {
			p.fresh++
		}
		p.visits += len(one.exams)
		p.groups = append(p.groups, one)
	}
	return p, nil
}

// againstRecord finds names of the sheet that may be horses of the record in another spelling.
func againstRecord(all []exam.Found, r *intake.Result, answered func(string) bool) []intake.Spelling {
	var names []intake.HorseName
	held := map[string]bool{}
	for _, f := range all {
		held[strings.ToLower(f.Horse.Name)] = true
		names = append(names, intake.HorseName{Text: f.Horse.Name, Owner: f.Horse.Owner, Chip: f.Horse.Chip})
	}
	for _, n := range r.Names() {
		if !held[strings.ToLower(n.Text)] {
			names = append(names, n)
		}
	}
	var out []intake.Spelling
	for _, s := range intake.Spellings(names, answered) {
		if s.Often.Line == 0 { // of two of the sheet the reading has asked
			out = append(out, s)
		}
	}
	return out
}

// match leaves out of a horse's exams what the record has.
func (p *importPlan) match(store exam.Store, one *plannedHorse, steps *exam.Steps) error {
	past, err := store.Past(one.horse.ID, 0)
	if err != nil || len(past) == 0 {
		return err
	}
	visits := make([]intake.Visit, len(one.exams))
	for i, n := range one.exams {
		visits[i] = p.Visit(n)
	}
	standing, others := intake.Match(visits, past)
	var fresh []int
	for i, n := range one.exams {
		switch standing[i] {
		case intake.Fresh:
			fresh = append(fresh, n)
		case intake.Known:
			p.passed++
		case intake.Changed:
			p.changed = append(p.changed, changedVisit{visits[i].Line, one.horse.Name, visits[i].At().Format("2 Jan 2006 15:04"), intake.Differs(visits[i], others[i], steps)})
		}
	}
	one.exams = fresh
	return nil
}

// knownHorse finds the horse of the record that a horse of the sheet is: by chip
// number, or by name where no more than one has it and nothing speaks against it. Why says what does.
func knownHorse(all []exam.Found, want exam.Horse) (held exam.Horse, ok bool, why string) {
	var named []exam.Horse
	for _, f := range all {
		h := f.Horse
		bothChipped := h.Chip != "" && want.Chip != ""
		switch {
		case bothChipped && h.Chip == want.Chip:
			return h, true, ""
		case !bothChipped && strings.EqualFold(h.Name, want.Name):
			named = append(named, h)
		}
	}
	switch {
	case len(named) == 0:
		return exam.Horse{}, false, ""
	case len(named) > 1:
		return exam.Horse{}, false, fmt.Sprintf("%d horses of the record are called %q; a column with the chip number tells them apart", len(named), want.Name)
	case named[0].Kind != want.Kind:
		return exam.Horse{}, false, fmt.Sprintf("%s is a %s in the file and a %s in the record. Two horses need two names or chips", want.Name, want.Kind, named[0].Kind)
	case named[0].Owner != "" && want.Owner != "" && !strings.EqualFold(named[0].Owner, want.Owner):
		return exam.Horse{}, false, want.Name + " belongs to another owner in the record; two horses need two names, or chip numbers"
	}
	return named[0], true, ""
}
