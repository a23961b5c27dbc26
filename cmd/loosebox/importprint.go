package main

import (
	"fmt"
	"strings"

	"loosebox/exam/intake"
	"loosebox/exam/notation"
)

// importJSON is what an import did.
type importJSON struct {
	Schema    string         `json:"schema"`
	Visits    int            `json:"visits"` // that came in
	NewHorses int            `json:"new_horses"`
	Horses    int            `json:"known_horses"`
	Passed    int            `json:"passed_over"` // in the record already
	Changed   []changedVisit `json:"changed"`
	NotIn     []notInJSON    `json:"not_in"`
	Rest      string         `json:"to_correct,omitempty"` // the file of the rows that did not come in
	DryRun    bool           `json:"dry_run"`
}

type notInJSON struct {
	Line int    `json:"line"`
	Why  string `json:"why"`
}

// maxSaid is how many rows and visits of a kind are said one by one.
const maxSaid = 20

// printImport says what came in, what did not and why.
func (e *env) printImport(p *importPlan, done importDone, f importFlags, what string) error {
	if done.err != nil {
		return done.err
	}
	if f.dryRun {
		for _, g := range p.groups {
			for _, i := range g.exams {
				done.count(p.Visit(i).Entries)
			}
		}
	}
	e.notices(p.Notices)
	if f.asJSON {
		out := importJSON{Schema: "loosebox/import/1", Visits: p.visits, NewHorses: p.fresh, Horses: p.known, Passed: p.passed, Changed: p.changed, Rest: done.rest, DryRun: f.dryRun}
		for _, b := range p.bad {
			out.NotIn = append(out.NotIn, notInJSON{b.Line, b.Why()})
		}
		return e.printJSON(out)
	}
	e.sayBad(p.bad, done.rest)
	for i, c := range p.changed {
		if i == maxSaid {
			e.say(fmt.Sprintf("and %d more that differ", len(p.changed)-i))
			break
		}
		e.say(fmt.Sprintf("line %d differs from the visit of %s at %s: %s. The record is as it was.", c.Line, c.Horse, c.At, strings.Join(c.Differ, "; ")))
	}
	if p.visits+p.passed+len(p.changed) == 0 {
		return fmt.Errorf("no exam of the sheet was imported; nothing was saved")
	}
	horses := notation.Counted(p.fresh, "new horse")
	if p.known > 0 {
		horses += fmt.Sprintf(", %d in the record already", p.known)
	}
	if p.visits == 0 {
		if err := e.printf("Nothing new was imported.\n"); err != nil {
			return err
		}
	} else if err := e.printf("%s (%s): %s, %s not done, %s: %s\n", notation.Counted(p.visits, "visit"), horses,
		notation.Counted(done.found, "finding"), notation.Counted(done.notDone, "step"), notation.Counted(done.comments, "comment"), what); err != nil {
		return err
	}
	var more []string
	if p.passed > 0 {
		more = append(more, fmt.Sprintf("%s in the record already, skipped", notation.Counted(p.passed, "visit")))
	}
	if len(p.changed) > 0 {
		more = append(more, fmt.Sprintf("%s not imported: the record has another one at that time", notation.Counted(len(p.changed), "visit")))
	}
	if len(p.bad) > 0 {
		more = append(more, fmt.Sprintf("%s not imported", notation.Counted(len(p.bad), "row")))
	}
	if len(more) == 0 {
		return nil
	}
	return e.printf("%s\n", strings.Join(more, "\n"))
}

// sayBad says which rows did not come in and where they are.
func (e *env) sayBad(bad []intake.BadRow, rest string) {
	for i, b := range bad {
		if i == maxSaid {
			e.say(fmt.Sprintf("and %d more rows that are not imported", len(bad)-i))
			break
		}
		e.say(notation.CleanLine(fmt.Sprintf("line %d: %s", b.Line, b.Why()), 500))
	}
	if rest != "" {
		e.say(fmt.Sprintf("The rows that were not imported are in %s, each with its reason. Correct them there and import that file with the same map.", rest))
	}
}
