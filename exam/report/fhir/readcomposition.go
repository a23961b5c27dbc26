package fhir

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// readComposition begins the visit of a document, or says why nothing of it is taken.
func (r *reader) readComposition(res *resource) error {
	c, err := as[composition](res)
	if err != nil {
		return err
	}
	met := r.refers(c.Encounter)
	patient := r.refers(c.Subject)
	if met == nil || r.animals[patient] == nil {
		return nil // its resources say for themselves whose they are
	}
	e, err := as[encounter](met)
	if err != nil {
		return err
	}
	why := ""
	switch {
	case c.Status == inError:
		why = "it was entered in error there, and nothing of it is imported"
	case c.Status == "preliminary" || e.Status == "in-progress":
		why = "it is not finished there. Nothing of it is imported: close it, and export it again"
	}
	if why != "" {
		for _, ref := range append([]reference{c.Encounter}, c.named()...) {
			r.refused[ref.Reference] = true
		}
		return errors.New(why)
	}
	v := r.visit(patient, c.Encounter.Reference, time.Time{})
	v.Routine = routineOf(e)
	if i := c.Identifier; i != nil {
		if id, ok := isUUID(i.System, i.Value); ok && uuid.Validate(id) == nil {
			v.ID = exam.VisitID(id)
		}
	}
	for n, a := range c.Attester {
		if n == 0 {
			v.end, v.closedBy = moment(a.Time), r.person(a.Party)
			continue
		}
		r.left = append(r.left, fmt.Sprintf("Visit of %s: that %s read it and signed it off. A signature stays where it was given.",
			v.At.Format(notation.DayForm), r.person(a.Party)))
	}
	if v.Routine != "" {
		v.From = &exam.CameFrom{Practice: r.practice(c.Custodian), Line: r.bound(c.Encounter.Reference)}
		for _, old := range c.RelatesTo {
			v.From.Replaces = notation.CleanLine(old.TargetIdentifier.Value, 0)
		}
	}
	for _, ref := range c.named() {
		r.of[ref.Reference] = v
	}
	return nil
}

// named is what the sections of a document name.
func (c composition) named() []reference {
	var out []reference
	for _, s := range c.Section {
		out = append(out, s.Entry...)
	}
	return out
}

// routineOf is the key of the routine of an exam of this program; empty for none.
func routineOf(e encounter) string {
	for _, t := range e.Type {
		if code := t.code(systemRoutine); code != "" {
			return notation.CleanLine(code, 0)
		}
	}
	return ""
}

// practice is the one that keeps a document.
func (r *reader) practice(ref *reference) exam.Letterhead {
	if ref == nil {
		return exam.Letterhead{}
	}
	o, _ := as[organization](r.refers(*ref))
	p := exam.Letterhead{Name: notation.CleanLine(o.Name, 0)}
	for _, t := range o.Telecom {
		p.Phone = notation.CleanLine(t.Value, 0)
	}
	for _, a := range o.Address {
		p.Address = notation.CleanLine(a.Text, 0)
	}
	return p
}

// bound is the digest of the record that a document is bound to.
func (r *reader) bound(meeting string) exam.Hash {
	for _, res := range r.list {
		if res.kind != "Provenance" {
			continue
		}
		p, _ := as[provenance](res)
		about := slices.ContainsFunc(p.Target, func(t reference) bool { return t.Reference == meeting })
		for _, e := range p.Entity {
			if i := e.What.Identifier; about && i != nil && i.System == systemDigest {
				return exam.Hash(notation.CleanLine(i.Value, 64))
			}
		}
	}
	return ""
}
