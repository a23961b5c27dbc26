package report

import (
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
)

// Sheet is a blank exam sheet for paper: the places of a routine in their order,
// each with what is to be written there.
type Sheet struct {
	Title string
	Horse *exam.Horse // nil for a sheet of any horse
	Parts []SheetPart
}

// SheetPart is what is done while standing in one place.
type SheetPart struct {
	Heading string // where the examiner stands
	Rows    []SheetStep
}

// SheetStep is one step on the sheet.
type SheetStep struct {
	Name    string
	Blanks  []string // labels of the blanks: the sites, or one empty
	Unit    string   // after each blank
	Choices []string // to tick where there is one blank, else a legend with numbers
	Usual   string   // for the horse's class; empty without a horse
	Caution string   // at its first step; the same words are not printed again
	// Coded says that a number of Choices is written into each blank, as the step has several; the list stands at its first
	// row, and Choices is empty at the others.
	Coded bool
}

// NewSheet makes the sheet of a routine. With a horse it leaves out what is not
// asked of its class and prints what is usual for it. Units are those in which the person works.
func NewSheet(r exam.Routine, table *exam.Steps, units notation.Units, horse *exam.Horse, class exam.Class, j *judge.Judge) Sheet {
	s := Sheet{Title: r.Title, Horse: horse}
	if horse != nil {
		r = r.For(class, table)
	} else if grown := r.For(exam.Class{}, table); 2*len(grown.Asks) > len(r.Asks) { // of any grown horse
		r = grown
	}
	places := map[exam.StepID]int{}
	for _, ask := range r.Asks {
		places[ask.Step] += len(ask.Sites)
	}
	listed, warned := map[exam.StepID]bool{}, map[string]bool{}
	for _, ask := range r.Asks {
		step, ok := table.ByID(ask.Step)
		if !ok {
			continue
		}
		if ask.Heading != "" || len(s.Parts) == 0 {
			s.Parts = append(s.Parts, SheetPart{Heading: ask.Heading})
		}
		if horse != nil {
			step = step.For(*horse)
		}
		row := sheetRow(step, ask, units, places[ask.Step] > 1)
		if row.Coded && listed[step.ID] {
			row.Choices = nil
		}
		listed[step.ID] = true
		if warned[row.Caution] {
			row.Caution = ""
		}
		warned[row.Caution] = true
		if text, held := j.Range(class, step, step.Prefer(units)); held && horse != nil {
			row.Usual = "usual " + text.Usual
		}
		part := &s.Parts[len(s.Parts)-1]
		part.Rows = append(part.Rows, row)
	}
	return s
}

func sheetRow(step exam.Step, ask exam.Ask, units notation.Units, several bool) SheetStep {
	row := SheetStep{Name: step.Name, Caution: step.Caution}
	for _, site := range ask.Sites {
		row.Blanks = append(row.Blanks, site.String())
	}
	switch step.Kind {
	case exam.KindCount:
		row.Blanks, row.Unit = []string{"in 15 s", "in 30 s", "in 60 s", "="}, string(step.Unit)
	case exam.KindTime:
		row.Blanks, row.Unit = []string{"1", "2", "3"}, string(step.Unit)
	case exam.KindNumber:
		row.Unit = unitsOn(step, units)
	case exam.KindWeight:
		row.Blanks, row.Unit = []string{"scale", "tape", "girth 1", "girth 2", "length"}, ""
	case exam.KindPick, exam.KindMarks:
		for i, c := range step.Choices {
			row.Choices = append(row.Choices, numbered(several, strconv.Itoa(i+1)+" =", c.Words))
		}
	case exam.KindScale: // by its own scores
		for _, c := range step.Choices {
			row.Choices = append(row.Choices, notation.FormatNumber(c.Score, 1)+" "+c.Words)
		}
	case exam.KindEvent:
		row.Blanks, row.Unit = []string{"seen at", "not yet at"}, ""
	case exam.KindNote:
	}
	row.Coded = several && len(row.Choices) > 0
	return row
}

// unitsOn are the units behind a blank: the person's own where one is set, else all that the step takes.
func unitsOn(step exam.Step, units notation.Units) string {
	if own := step.Prefer(units); own != step.Unit {
		return string(own)
	}
	list := make([]string, len(step.Units))
	for i, u := range step.Units {
		list[i] = string(u)
	}
	return strings.Join(list, " / ")
}

// who are the blanks, or the lines, at the head of the sheet.
func (s Sheet) who() [][2]string {
	h := exam.Horse{}
	if s.Horse != nil {
		h = *s.Horse
	}
	return [][2]string{
		{"Horse", notation.CleanLine(h.Name, 0)},
		{"Owner", notation.CleanLine(h.Owner, 0)},
		{"Place", notation.CleanLine(h.Place, 0)},
		{"Date, time", ""},
		{"By", ""},
		{"Chip", notation.CleanLine(h.Chip, 0)},
		{"Role", ""},
		{"Last 30 minutes", ""},
	}
}

// Head are the lines at the head of the sheet: label and value, empty where it is
// to be written.
func (s Sheet) Head() [][2]string { return s.who() }

// Foot stands on every page: which animal it is for, or room for its name.
func (s Sheet) Foot() string {
	if s.Horse == nil {
		return "Exam sheet: " + s.Title
	}
	chip := "no chip recorded"
	if s.Horse.Chip != "" {
		chip = "chip " + notation.CleanLine(s.Horse.Chip, 20)
	}
	return notation.CleanLine(s.Horse.Name, 30) + " · " + chip + " · exam sheet: " + s.Title
}

// Cautions are the handling cautions of the horse.
func (s Sheet) Cautions() string {
	if s.Horse == nil {
		return ""
	}
	return notation.CleanLine(strings.Join(s.Horse.Cautions, ", "), 0)
}

// SheetFoot stands at the end of every sheet.
const SheetFoot = "Write \"not done\" and the reason in every empty blank. No diagnosis: the veterinarian decides."
