package main

import (
	"bytes"
	"cmp"
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
)

// The forms in which a visit is written.
const (
	formText = "text"
	formJSON = "json"
	formHTML = "html"
	formPDF  = "pdf"
	formFHIR = "fhir"
)

// owner is the only other reader than the practice itself.
const owner = "owner"

// wanted is how somebody wants a page.
type wanted struct {
	as, reader, paper string
	short             bool
}

func (w wanted) check() error {
	forms := []string{formText, formJSON, formHTML, formPDF, formCSV, formFHIR}
	switch {
	case !slices.Contains(forms, w.as):
		return usage("a visit can be shown as %s, not as %q", strings.Join(forms, ", "), notation.CleanLine(w.as, 20))
	case w.reader != "" && w.reader != owner:
		return usage("a page is written for the practice, or --for owner; not for %q", notation.CleanLine(w.reader, 20))
	case w.reader == owner && (w.as == formJSON || w.as == formCSV || w.as == formFHIR):
		return usage("the owner's page is text, html or pdf; %s holds everything", w.as)
	}
	if w.short && (w.as == formJSON || w.as == formCSV || w.as == formFHIR) {
		return usage("--short is for a page of text, html or pdf; %s holds everything", w.as)
	}
	_, err := paperSize(w.paper)
	return err
}

func paperSize(name string) (pdf.Size, error) {
	if name == "" {
		return pdf.A4, nil
	}
	for _, size := range []pdf.Size{pdf.A4, pdf.Letter} {
		if strings.EqualFold(name, string(size)) {
			return size, nil
		}
	}
	return "", usage("paper is A4 or Letter, not %q", notation.CleanLine(name, 20))
}

// printPage writes a visit in the form that is wanted.
func (e *env) printPage(p report.Page, w wanted) error {
	switch w.as {
	case formJSON:
		return e.printJSON(report.JSON(p))
	case formCSV:
		return report.WriteCSV(e.out, p)
	case formFHIR:
		return e.printFHIR(p)
	}
	blocks, charts := report.Blocks(p), p.Charts
	if w.short {
		blocks, charts = report.Front(p), nil
	}
	if w.reader == owner {
		blocks, charts = report.OwnerBlocks(p, e.judge), nil
	}
	switch w.as {
	case formHTML, formPDF:
		at := p.Visit.OpenedAt
		if p.Visit.ClosedAt != nil {
			at = *p.Visit.ClosedAt
		}
		return e.printSet(p.Practice, pdf.Page{Title: p.Title(), Foot: p.Foot(), At: at, Blocks: blocks, Charts: charts}, w)
	}
	return e.printf("%s", report.SetText(blocks, pageWidth))
}

// printSet writes blocks under the letterhead of the practice as HTML or PDF.
func (e *env) printSet(practice exam.Practice, p pdf.Page, w wanted) error {
	p.Head = pdf.Head{Lines: practice.Lines(), Logo: e.logo(practice)}
	if w.as == formHTML {
		return html.Write(e.out, html.Page{Title: p.Title, Head: p.Head.Lines, Logo: p.Head.Logo, Foot: p.Foot, Blocks: p.Blocks, Charts: p.Charts})
	}
	size, err := paperSize(cmp.Or(w.paper, practice.Paper))
	if err != nil {
		return err
	}
	if err := e.noTerminal(); err != nil {
		return err
	}
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
