package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/term"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/fhir"
	"loosebox/exam/report/html"
	"loosebox/exam/report/pdf"
	"loosebox/storage"
)

// The forms in which a visit is written.
const (
	formText = "text"
	formJSON = "json"
	formHTML = "html"
	formPDF  = "pdf"
	formCSV  = "csv"
	formFHIR = "fhir"
)

// form is a form in which a visit is written and, where it has record, everything at once.
type form struct {
	name string
	// page sets a page for a person under the letterhead of the practice: it can be short, or for the owner.
	page func(e *env, practice exam.Letterhead, p pdf.Page, w wanted) error
	// data writes, in place of page, everything that is known of a visit, for a program.
	data func(e *env, p report.Page) error
	// record writes the whole record and says how many of counted it wrote; nil for a form of single visits.
	record  func(e *env, ctx context.Context, r *storage.Record, teach bool) (int, error)
	counted string
	teaches bool   // record also writes copies for teaching
	says    string // of record, in the help of export
}

// forms is the table of every form: a new one is one row here.
func forms() []form {
	return []form{
		{name: formText, page: (*env).printText},
		{
			name: formJSON, data: func(e *env, p report.Page) error { return e.printJSON(report.JSON(p)) },
			record: (*env).exportJSON, counted: "lines", teaches: true, says: "every signed log, rehearsals too: import reads it back, line for line",
		},
		{name: formHTML, page: (*env).printHTML},
		{name: formPDF, page: (*env).printPDF},
		{
			name: formCSV, data: func(e *env, p report.Page) error { return report.WriteCSV(e.out, p) },
			record: (*env).exportCSV, counted: "lines", teaches: true, says: "for a spreadsheet; cannot be imported as it is",
		},
		{
			name: formFHIR, data: (*env).printFHIR,
			record: (*env).exportFHIR, counted: "documents", says: "one FHIR R4 document a line and visit, for other programs",
		},
	}
}

// formOf is the form with a name among those that fit; ok is false where there is none.
func formOf(name string, fits func(form) bool) (f form, ok bool) {
	all := forms()
	i := slices.IndexFunc(all, func(f form) bool { return f.name == name && fits(f) })
	if i < 0 {
		return form{}, false
	}
	return all[i], true
}

// formNames are the names of the forms that fit: "json, csv or fhir".
func formNames(last string, fits func(form) bool) string {
	var names []string
	for _, f := range forms() {
		if fits(f) {
			names = append(names, f.name)
		}
	}
	end := len(names) - 1
	return strings.Join(names[:end], ", ") + last + names[end]
}

func anyForm(form) bool       { return true }
func forPerson(f form) bool   { return f.page != nil }
func forRecord(f form) bool   { return f.record != nil }
func forTeaching(f form) bool { return f.teaches }

// owner is the only other reader than the practice itself.
const owner = "owner"

// wanted is how somebody wants a page.
type wanted struct {
	as, reader, paper string
	short             bool
}

func (w wanted) check() error {
	f, ok := formOf(w.as, anyForm)
	switch {
	case !ok:
		return usage("a visit can be shown as %s, not as %q", formNames(", ", anyForm), notation.CleanLine(w.as, 20))
	case w.reader != "" && w.reader != owner:
		return usage("a page is written for the practice, or --for owner; not for %q", notation.CleanLine(w.reader, 20))
	case w.reader == owner && f.page == nil:
		return usage("the owner's page is %s; %s holds everything", formNames(" or ", forPerson), w.as)
	case w.short && f.page == nil:
		return usage("--short is for a page of %s; %s holds everything", formNames(" or ", forPerson), w.as)
	}
	_, err := paperSize(w.paper)
	return err
}

func paperSize(name string) (pdf.PaperSize, error) {
	if name == "" {
		return pdf.A4, nil
	}
	for _, size := range []pdf.PaperSize{pdf.A4, pdf.Letter} {
		if strings.EqualFold(name, string(size)) {
			return size, nil
		}
	}
	return "", usage("paper is A4 or Letter, not %q", notation.CleanLine(name, 20))
}

// printVisit writes a visit in the form that is wanted.
func (e *env) printVisit(p report.Page, w wanted) error {
	f, _ := formOf(w.as, anyForm) // checked
	if f.data != nil {
		return f.data(e, p)
	}
	blocks, charts := report.Blocks(p), p.Charts
	if w.short {
		blocks, charts = report.Front(p), nil
	}
	if w.reader == owner {
		blocks, charts = report.OwnerBlocks(p, e.judge), nil
	}
	at := p.Visit.OpenedAt
	if p.Visit.ClosedAt != nil {
		at = *p.Visit.ClosedAt
	}
	return f.page(e, p.Practice, pdf.Page{Title: p.Title(), Foot: p.Foot(), At: at, Blocks: blocks, Charts: charts}, w)
}

// printText writes blocks alone: they say whose page it is.
func (e *env) printText(_ exam.Letterhead, p pdf.Page, _ wanted) error {
	return e.printf("%s", report.SetText(p.Blocks, pageWidth))
}

func (e *env) printHTML(practice exam.Letterhead, p pdf.Page, _ wanted) error {
	return html.Write(e.out, html.Page{Title: p.Title, Head: practice.Lines(), Logo: e.logo(practice), Foot: p.Foot, Blocks: p.Blocks, Charts: p.Charts})
}

func (e *env) printPDF(practice exam.Letterhead, p pdf.Page, w wanted) error {
	size, err := paperSize(cmp.Or(w.paper, practice.Paper))
	if err != nil {
		return err
	}
	if err := e.noTerminal(); err != nil {
		return err
	}
	p.Head = pdf.Letterhead{Lines: practice.Lines(), Logo: e.logo(practice)}
	lost, err := pdf.Write(e.out, size, p)
	e.sayLost(lost)
	return err
}

// printFHIR writes the document Bundle with line breaks for a person.
func (e *env) printFHIR(p report.Page) error {
	b, err := fhir.Document(p, e.judge)
	if err != nil {
		return err
	}
	var wide bytes.Buffer
	if err := json.Indent(&wide, b, "", "  "); err != nil {
		return fmt.Errorf("the visit cannot be written as FHIR: %w", err)
	}
	return e.printf("%s\n", wide.Bytes())
}

// noTerminal keeps the bytes of a PDF off the screen.
func (e *env) noTerminal() error {
	if f, ok := e.out.(window); ok && term.IsTerminal(f.Fd()) {
		return usage("a PDF goes into a file: add -o FILE")
	}
	return nil
}

// sayLost names the characters that were printed as question marks.
func (e *env) sayLost(lost []rune) {
	if len(lost) > 0 {
		e.say("loosebox: the font of the PDF lacks " + string(lost) + "; each is printed as ? and named at the foot of the page. The record is unchanged, and html shows them.")
	}
}
