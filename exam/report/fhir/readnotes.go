package fhir

import (
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// notes are what the annotations of a resource say, each by what it begins with.
type notes struct {
	text   []string // free words
	before []stood  // oldest first
	added  *stood   // set where it was added after closing
	beside bool     // another answer stands beside it
}

// stood is what stood before a correction, or when and why something was added.
type stood struct {
	by, said, why string
	at            time.Time
}

func notesOf(list []annotation) notes {
	var n notes
	for _, a := range list {
		s := stood{by: notation.CleanLine(a.AuthorString, 0), at: moment(a.Time)}
		signed := s.by != "" && !s.at.IsZero()
		said, corrected := strings.CutPrefix(a.Text, beforeWords)
		why, added := strings.CutPrefix(a.Text, addedWords)
		switch {
		case corrected && signed:
			s.said = said
			if i := strings.LastIndex(said, becauseWords); i >= 0 {
				s.said, s.why = said[:i], said[i+len(becauseWords):]
			}
			n.before = append(n.before, s)
		case added && signed:
			s.why = why
			n.added = &s
		case strings.HasPrefix(a.Text, besideWords):
			n.beside = true
		default:
			n.text = append(n.text, notation.CleanNote(a.Text))
		}
	}
	return n
}

// free are the free words as one note.
func (n notes) free() string { return strings.Join(n.text, "; ") }

// chain are the lines of one place: what stood before, each corrected by the next, and last what stands. Where one of them
// cannot be read the corrections are kept in the words of the note.
func (n notes) chain(last *told, entry func(said string) (exam.Entry, bool)) []*told {
	out := make([]*told, 0, len(n.before)+1)
	why := "" // of the correction that the next one is
	for _, s := range n.before {
		e, ok := entry(s.said)
		if !ok {
			return []*told{n.inWords(last)}
		}
		e.At, e.By = s.at, s.by
		out = append(out, corrected(&told{Entry: e}, out, why))
		why = s.why
	}
	out = append(out, corrected(last, out, why))
	if n.added != nil {
		happened := last.At
		last.Kind, last.late, last.Amend = exam.EntryAdded, true, &exam.Amendment{Why: exam.ReadAmendReason(n.added.why)}
		if last.At, last.By = n.added.at, n.added.by; happened.Unix() != last.At.Unix() {
			last.Amend.Happened = &happened
		}
	}
	return out
}

// corrected makes a line the correction of the last one; one with a reason came after the visit was closed.
func corrected(t *told, earlier []*told, why string) *told {
	if n := len(earlier); n > 0 {
		t.corrects = earlier[n-1]
		t.late = t.corrects.late
	}
	if why != "" {
		t.late, t.Amend = true, &exam.Amendment{Why: exam.ReadAmendReason(why)}
	}
	return t
}

// inWords keeps corrections that cannot be read as answers in the note of the line.
func (n notes) inWords(t *told) *told {
	for _, s := range n.before {
		words := beforeWords + s.said
		if s.why != "" {
			words += becauseWords + s.why
		}
		t.Note = strings.TrimPrefix(t.Note+"; "+words, "; ")
	}
	return t
}
