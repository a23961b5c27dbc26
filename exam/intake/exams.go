package intake

import (
	"fmt"
	"io"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// ExamRow is one exam of a table, ready to be judged.
type ExamRow struct {
	ID    string // "line 7" where the table gives none
	Line  int    // in the file, counted from 1
	Visit exam.Visit
	// Notices say what was taken although it is hardly ever seen.
	Notices []string
}

// The columns of an exam beside its steps.
const (
	colID       = "id"
	colKind     = "kind"
	colAge      = "age"
	colBreed    = "breed"
	colSex      = "sex"
	colAtRest   = "at_rest"
	colMedicine = "medicine"
	colInFoal   = "in_foal"
)

func fixedColumns() []string {
	return append([]string{colID, colKind, colAge, colBreed, colSex, colInFoal, colAtRest, colMedicine}, stateColumns()...)
}

// ExamDay is the invented day of every exam of a table, which names none: an
// animal's class is worked out from its age on this day.
func ExamDay() time.Time { return time.Date(2001, 6, 15, 12, 0, 0, 0, time.UTC) }

// ReadExams reads a table of exams, one a row, in CSV or JSON. Columns: id, kind
// (a horse where it is empty), age, breed, sex, at_rest, medicine, and the
// identities of steps, with a site after a colon where the step has sites. Another column is an
// error unless ignore names it. An empty cell is a step that was not recorded.
//
// A table with anything wrong gives a *FileError and no row.
func ReadExams(r io.Reader, name string, steps *exam.Steps, ignore []string) ([]ExamRow, error) {
	e := newFileError(name)
	s, err := readSheet(r, e, How{})
	if err != nil {
		return nil, err
	}
	if len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	t := &examTable{e: e, places: map[int]place{}, fixed: map[string]int{}}
	t.columns(s, steps, ignore)
	rows := make([]ExamRow, 0, len(s.rows))
	for _, r := range s.rows {
		rows = append(rows, t.row(s, r))
	}
	if err := e.OrNil(); err != nil {
		return nil, err
	}
	rows[0].Notices = append(s.notices, rows[0].Notices...)
	return rows, nil
}

type examTable struct {
	e      *FileError
	places map[int]place
	fixed  map[string]int // name -> column
}

// columns finds out what every column holds.
func (t *examTable) columns(s *sheet, steps *exam.Steps, ignore []string) {
	known := append(fixedColumns(), identities(steps)...)
	for _, name := range ignore {
		if !hasFold(s.head, name) {
			t.e.AddAt(1, name, "this column was to be ignored and is not there%s", orMeant(name, s.head))
		}
	}
	taken := map[exam.Key]string{}
	for i, name := range s.head {
		lower := strings.ToLower(name)
		switch {
		case name == "" || hasFold(ignore, name):
			continue
		case hasFold(fixedColumns(), name):
			t.fixed[lower] = i
			continue
		}
		p, wrong := readPlace(steps, name)
		if wrong != "" {
			if _, known := steps.ByID(exam.StepID(strings.TrimSpace(strings.Split(lower, ":")[0]))); known {
				t.e.AddAt(1, name, "%s", wrong)
				continue
			}
			t.e.AddAt(1, name, "this column is not known%s (--ignore %s leaves it out)", orMeant(name, known), ownfile.Quote(name))
			continue
		}
		if other, ok := taken[p.key()]; ok {
			t.e.AddAt(1, name, "holds the same as column %s", ownfile.Quote(other))
		}
		taken[p.key()], t.places[i] = name, p
	}
}

func hasFold(list []string, word string) bool {
	for _, w := range list {
		if strings.EqualFold(strings.TrimSpace(w), word) {
			return true
		}
	}
	return false
}

func (t *examTable) cell(r sheetRow, name string) string {
	if i, ok := t.fixed[name]; ok {
		return r.cells[i]
	}
	return ""
}

func (t *examTable) row(s *sheet, r sheetRow) ExamRow {
	out := ExamRow{ID: notation.CleanLine(t.cell(r, colID), 80), Line: r.line}
	if out.ID == "" {
		out.ID = fmt.Sprintf("line %d", r.line)
	}
	v := exam.Visit{By: t.e.File, Source: t.e.File, OpenedAt: ExamDay(), Horse: t.animal(r, out.ID)}
	if text := t.cell(r, colAtRest); text != "" {
		var err error
		if v.Context, err = readAtRest(text); err != nil {
			t.e.AddAt(r.line, colAtRest, "%v", err)
		}
	}
	t.states(r, &v.Context)
	medicines, err := exam.ReadMedicines(t.cell(r, colMedicine))
	if err != nil {
		t.e.AddAt(r.line, colMedicine, "%v", err)
	}
	v.Context.Medicines = medicines
	for i, name := range s.head {
		p, ok := t.places[i]
		if !ok {
			continue
		}
		f := exam.Finding{Step: p.step.ID, Site: p.site, At: v.OpenedAt, By: v.By, Seq: len(v.Findings) + 1}
		if r.cells[i] == "" {
			f.NotDone = exam.ReasonNotRecorded
			v.Findings = append(v.Findings, f)
			continue
		}
		a, err := readCell(p.step, r.cells[i], notation.NoUnit)
		if err != nil {
			t.e.AddAt(r.line, name, "%v", err)
			continue
		}
		if a.unlikely != "" {
			out.Notices = append(out.Notices, fmt.Sprintf("%s:%d: %s: %s", t.e.File, r.line, name, a.unlikely))
		}
		f.Value, f.NotDone = a.value, exam.Reason(a.notDone)
		v.Findings = append(v.Findings, f)
	}
	out.Visit = v
	return out
}

func (t *examTable) animal(r sheetRow, id string) exam.Horse {
	h := exam.Horse{Name: id, Kind: exam.AnimalHorse, Sex: exam.SexUnknown, Breed: notation.CleanLine(t.cell(r, colBreed), 0), Birth: exam.Birth{Precision: exam.BornUnknown}}
	var err error
	if text := t.cell(r, colKind); text != "" {
		if h.Kind, err = readKind(text); err != nil {
			t.e.AddAt(r.line, colKind, "%v", err)
		}
	}
	if text := t.cell(r, colSex); text != "" {
		if h.Sex, err = readSex(text); err != nil {
			t.e.AddAt(r.line, colSex, "%v", err)
		}
	}
	t.inFoal(r, &h)
	if text := t.cell(r, colAge); text != "" {
		if h.Birth, err = readAge(text, ExamDay()); err != nil {
			t.e.AddAt(r.line, colAge, "%v", err)
		}
	}
	if err := exam.CheckSex(h, ExamDay()); err != nil {
		column := colSex
		if h.InFoal {
			column = colInFoal
		}
		t.e.AddAt(r.line, column, "%v", err)
	}
	return h
}
