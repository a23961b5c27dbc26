package fhir

import (
	"html"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// section adds a part of the document with its resources and the same in words.
func (w *writer) section(title string, lines []string, refs []reference) {
	if len(lines)+len(refs) == 0 {
		return
	}
	s := section{Title: title, Entry: refs, Text: narrated(lines)}
	w.sections = append(w.sections, s)
}

// narrated is lines as the narrative of a resource or section; nil for none.
func narrated(lines []string) *narrative {
	if len(lines) == 0 {
		return nil
	}
	var b strings.Builder
	b.WriteString(`<div xmlns="http://www.w3.org/1999/xhtml">`)
	for _, l := range lines {
		b.WriteString("<p>" + html.EscapeString(filled(l)) + "</p>")
	}
	return &narrative{Status: "generated", Div: b.String() + "</div>"}
}

// instant is a moment with its offset, as R4's dateTime and instant ask.
func instant(t time.Time) string { return t.Format(time.RFC3339) }

// filled is a text made safe; R4 allows no empty one.
func filled(s string) string {
	if s = notation.CleanNote(s); s != "" {
		return s
	}
	return "not known"
}

func text(s string) concept { return concept{Text: filled(s)} }

func textPointer(s string) *concept {
	if s = notation.CleanNote(s); s == "" {
		return nil
	}
	return &concept{Text: s}
}
