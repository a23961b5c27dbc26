package export

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"loosebox/exam"
	"loosebox/exam/bounded"
	"loosebox/exam/notation"
)

// header are the columns: what a person reads, then digest and stored JSON, from
// which alone an import reads.
func header() []string {
	return []string{
		"line", "horse", "horse name", "visit", "number", "at", "by", "kind", "step", "name", "site", "value", "amount", "unit", "reason", "note", "corrects", "hash", "body",
	}
}

const (
	columnLine = 0
	columnNote = 15
	columnHash = 17
	columnBody = 18
)

type csvSink struct {
	w      *csv.Writer
	steps  *exam.Steps
	horses map[exam.VisitID]exam.Horse
	n      int
}

// NewCSV begins a stream of CSV (RFC 4180 with a header). In text columns a cell
// that a spreadsheet would take for a formula gets an apostrophe before it.
func NewCSV(w io.Writer, steps *exam.Steps) (Sink, error) {
	s := &csvSink{w: csv.NewWriter(w), steps: steps, horses: map[exam.VisitID]exam.Horse{}}
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

func (s *csvSink) Line(l exam.Line) error {
	s.n++
	cells := make([]string, len(header()))
	cells[columnLine], cells[columnHash], cells[columnBody] = string(l.Kind), string(l.Hash), string(l.Body)
	if err := s.fill(cells, l); err != nil {
		return err
	}
	return wrote(s.w.Write(cells))
}

// fill writes what a person reads.
func (s *csvSink) fill(cells []string, l exam.Line) error {
	switch l.Kind {
	case exam.LineHorse:
		return horseCells(cells, l.Body)
	case exam.LineRound:
		return roundCells(cells, l)
	case exam.LineEntry:
	}
	return s.entryCells(cells, l)
}

func roundCells(cells []string, l exam.Line) error {
	r, err := exam.UnsealRound(l)
	if err != nil {
		return err
	}
	copy(cells[1:], []string{string(r.Horse), "", "", strconv.Itoa(r.Seq), r.At.Format(time.RFC3339Nano), Defuse(r.By), string(r.Act)})
	cells[columnNote] = Defuse(strings.Join(slices.DeleteFunc([]string{r.Day, r.Words, r.To, r.OnDay, string(r.Turn)}, func(s string) bool { return s == "" }), ", "))
	return nil
}

func horseCells(cells []string, body []byte) error {
	var l struct {
		Horse exam.Horse `json:"horse"`
		By    string     `json:"by"`
		At    time.Time  `json:"at"`
	}
	if err := json.Unmarshal(body, &l); err != nil {
		return fmt.Errorf("a horse cannot be read: %w", err)
	}
	copy(cells[1:], []string{string(l.Horse.ID), Defuse(l.Horse.Name), "", strconv.Itoa(l.Horse.Revision), l.At.Format(time.RFC3339Nano), Defuse(l.By)})
	return nil
}

func (s *csvSink) entryCells(cells []string, l exam.Line) error {
	e, err := exam.Unseal(l.Body, l.Hash)
	if err != nil {
		return err
	}
	if e.Opening != nil {
		s.horses[e.Visit] = e.Opening.Horse
	}
	h := s.horses[e.Visit]
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
	copy(cells[1:], []string{
		string(h.ID), Defuse(h.Name), string(e.Visit), strconv.Itoa(e.Seq), e.At.Format(time.RFC3339Nano), Defuse(e.By), string(e.Kind), string(e.Step), Defuse(name),
		string(e.Site), Defuse(value), amount, unit, Defuse(e.Reason), Defuse(e.Note), corrects,
	})
	return nil
}

// Close ends the stream with the number of its lines.
func (s *csvSink) Close() error {
	last := make([]string, len(header()))
	last[columnLine], last[columnHash] = "end", strconv.Itoa(s.n)
	if err := s.w.Write(last); err != nil {
		return wrote(err)
	}
	s.w.Flush()
	return wrote(s.w.Error())
}

// ReadCSV reads a stream of CSV and hands on each line; the error names the file
// and the line.
func ReadCSV(r io.Reader, file string, take func(exam.Line) error) error {
	in := csv.NewReader(bounded.Reader(r, bounded.Limits{Line: maxLine, CSV: true}))
	in.FieldsPerRecord = len(header())
	lines, whole := 0, false
	for n := 0; ; n++ {
		cells, err := in.Read()
		line := n + 1
		if len(cells) > 0 {
			line, _ = in.FieldPos(0)
		}
		switch {
		case errors.Is(err, io.EOF) && whole:
			return nil
		case errors.Is(err, io.EOF):
			return refuse(file, lines+1, errors.New("the end of the export is missing: the file was cut off"))
		case n == 0 && (err != nil || cells[columnBody] != "body"):
			return refuse(file, 1, errors.New("this is no export of loosebox; a spreadsheet is imported with --map"))
		case err != nil:
			return refuse(file, n+1, fmt.Errorf("this is no line of an export (%w)", err))
		case whole:
			err = errors.New("something follows the end of the export")
		case n == 0:
		case cells[columnLine] == "end":
			whole = true
			if cells[columnHash] != strconv.Itoa(lines) {
				err = fmt.Errorf("the export says that it has %s lines, but %d are here", notation.CleanLine(cells[columnHash], 12), lines)
			}
		default:
			lines++
			err = handOn(exam.LineKind(cells[columnLine]), exam.Hash(cells[columnHash]), []byte(cells[columnBody]), take)
		}
		if err != nil {
			return refuse(file, line, err)
		}
	}
}
