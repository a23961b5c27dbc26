package intake

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// stateColumns are columns of yes and no for what the horse was doing in the last half hour.
func stateColumns() []string { return []string{"worked", "excited", "travelled", "heat"} }

func stateOf(column string) exam.State {
	return map[string]exam.State{
		"worked": exam.StateWorked, "excited": exam.StateExcited, "travelled": exam.StateTravelled, "heat": exam.StateHot,
	}[column]
}

// states adds what the columns of states say; "no" in a column says nothing about the others.
func (t *examTable) states(r sheetRow, c *exam.Context) {
	for _, column := range stateColumns() {
		text := t.cell(r, column)
		if text == "" {
			continue
		}
		yes, err := readYesNo(text)
		switch {
		case err != nil:
			t.e.AddAt(r.line, column, "%v", err)
		case !yes:
		case c.Has(exam.StateRest):
			t.e.AddAt(r.line, column, "the row says at rest as well")
		case !c.Has(stateOf(column)):
			c.States = append(c.States, stateOf(column))
		}
	}
}

func readYesNo(text string) (bool, error) {
	switch strings.ToLower(text) {
	case "yes", "y", "true", "1":
		return true, nil
	case "no", "n", "false", "0":
		return false, nil
	}
	return false, fmt.Errorf("%s is neither yes nor no", ownfile.Quote(text))
}

// gestationDays is the usual length of a mare's gestation, from memory; it only places a month of it in the calendar.
const gestationDays = 340

// inFoal reads yes, no, or for how long the mare is in foal ("9mo"), by which the last three months are known.
func (t *examTable) inFoal(r sheetRow, h *exam.Horse) {
	text := t.cell(r, colInFoal)
	if text == "" {
		return
	}
	if yes, err := readYesNo(text); err == nil {
		h.InFoal = yes
	} else {
		b, err := readAge(text, ExamDay())
		if err != nil || b.At.IsZero() || ExamDay().Sub(b.At).Hours() > 24*(gestationDays+60) {
			t.e.AddAt(r.line, colInFoal, "%s is neither yes nor no nor how long she is in foal (9mo)", ownfile.Quote(text))
			return
		}
		h.InFoal, h.FoalDue = true, b.At.AddDate(0, 0, gestationDays).Format(notation.DayForm)
	}
	if h.InFoal && h.Sex == exam.SexUnknown {
		h.Sex = exam.Mare
	}
}
