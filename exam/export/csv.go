package export

import (
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"loosebox/exam"
)

// header are the columns.
func header() []string {
	return []string{
		"line", "horse", "horse name", "visit", "number", "at", "by", "kind", "step", "name", "site", "value", "amount", "unit", "reason", "note", "corrects", "identity",
	}
}

// columnNote is where a note stands.
const columnNote = 15

// CSV writes what lines say, for spreadsheets.
type CSV struct {
	w     *csv.Writer
	steps *exam.Steps
}

// NewCSV begins a stream of CSV (RFC 4180 with a header). In text columns a cell
// that a spreadsheet would take for a formula gets an apostrophe before it.
func NewCSV(w io.Writer, steps *exam.Steps) (*CSV, error) {
	s := &CSV{w: csv.NewWriter(w), steps: steps}
	s.w.UseCRLF = true
	return s, wrote(s.w.Write(header()))
}

// Defuse makes a text safe to open in a spreadsheet (OWASP, CSV injection: a cell
// that begins with =, +, -, @, tab, carriage return or line feed may be taken for a
// formula, and so may one that begins with the full-width forms of these signs).
func Defuse(text string) string {
	first, _ := utf8.DecodeRuneInString(text)
	if text != "" && strings.ContainsRune("=+-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20", first) {
		return "'" + text
	}
	return text
}

// Horse writes a revision of a horse.
func (s *CSV) Horse(l exam.HorseLine) error {
	return s.put(exam.LineHorse, []string{
		string(l.Horse.ID), Defuse(l.Horse.Name), "", strconv.Itoa(l.Horse.Revision), l.At.Format(time.RFC3339Nano), Defuse(l.By),
	})
}

// Round writes a line of a day's round.
func (s *CSV) Round(r exam.RoundLine) error {
	cells := make([]string, columnNote)
	copy(cells, []string{string(r.Horse), "", "", strconv.Itoa(r.Seq), r.At.Format(time.RFC3339Nano), Defuse(r.By), string(r.Act)})
	cells[columnNote-1] = Defuse(strings.Join(slices.DeleteFunc([]string{r.Day, r.Words, r.To, r.OnDay, string(r.Turn)}, func(s string) bool { return s == "" }), ", "))
	return s.put(exam.LineRound, cells)
}

// Visit writes the lines of a visit.
func (s *CSV) Visit(entries []exam.Entry) error {
	var h exam.Horse
	for _, e := range entries {
		if e.Opening != nil {
			h = e.Opening.Horse
		}
		if err := s.put(exam.LineEntry, s.entryCells(h, e)); err != nil {
			return err
		}
	}
	return nil
}

// put writes a row: the kind of line, then its cells.
func (s *CSV) put(kind exam.LineKind, cells []string) error {
	row := make([]string, len(header()))
	row[0] = string(kind)
	copy(row[1:], cells)
	return wrote(s.w.Write(row))
}

func (s *CSV) entryCells(h exam.Horse, e exam.Entry) []string {
	name, value, amount, unit := "", "", "", ""
	if step, ok := s.steps.ByID(e.Step); ok {
		name = step.Name
		if e.Value != nil {
			value = e.Value.Show(step)
		}
	}
	if e.Value != nil && e.Value.Number != nil {
		amount, unit = strconv.FormatFloat(e.Value.Number.Value, 'g', -1, 64), string(e.Value.Number.Unit)
	}
	corrects := ""
	if e.Corrects > 0 {
		corrects = strconv.Itoa(e.Corrects)
	}
	return []string{
		string(h.ID), Defuse(h.Name), string(e.Visit), strconv.Itoa(e.Seq), e.At.Format(time.RFC3339Nano), Defuse(e.By), string(e.Kind), string(e.Step), Defuse(name),
		string(e.Site), Defuse(value), amount, unit, Defuse(e.Reason), Defuse(e.Note), corrects, string(e.Hash),
	}
}

// Close ends the stream.
func (s *CSV) Close() error {
	s.w.Flush()
	return wrote(s.w.Error())
}
