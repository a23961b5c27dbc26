package class

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"loosebox/exam/export"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/report"
)

// Summary is how many took the exam and how many passed, in a sentence or two.
func (c Results) Summary() string {
	passed := 0
	for _, st := range c.Students {
		if st.Passed {
			passed++
		}
	}
	return fmt.Sprintf("%s, %d passed. Pass mark %s %% of the points%s.", notation.Counted(len(c.Students), "student"), passed, notation.FormatNumber(c.Set.Pass, 0), atOnce(c.Set))
}

// Blocks are the table of the class as a page: who passed, what went wrong at which place, and which faults were made.
func (c Results) Blocks() []report.Block {
	s := c.Set
	head := report.Block{Heading: "", Lines: []report.BlockLine{
		{Text: c.Summary()},
		{Text: fmt.Sprintf("Case %s, seed %d%s%s. Simulated horse: no real animal.", s.Case, s.Seed, deadline(s), attempts(s))},
	}}
	people := report.Block{Heading: "by person", Table: &report.Table{Head: []string{"name", "points", "%", "right", "time", "result"}}}
	for _, st := range c.Students {
		row := []string{st.Name, "-", "-", "-", "-", c.Result(st)}
		if b := st.Best; b != nil {
			t := b.Marks.Tally()
			row = []string{
				st.Name, notation.FormatNumber(b.Score.Points, 1) + "/" + notation.FormatNumber(b.Score.Of, 1), notation.FormatNumber(b.Score.Percent, 0),
				fmt.Sprintf("%d/%d", t.Right, t.Asked), minutes(b.Marks.TotalS), c.Result(st),
			}
		}
		people.Table.Rows = append(people.Table.Rows, report.TableRow{Cells: row})
	}
	steps := report.Block{Heading: "by step", Table: &report.Table{Head: []string{"step", "right", "in part", "wrong", "not examined"}}}
	for _, p := range c.Places() {
		if p.Right == p.Asked {
			continue
		}
		steps.Table.Rows = append(steps.Table.Rows, report.TableRow{Cells: []string{
			p.Name, fmt.Sprintf("%d of %d", p.Right, p.Asked), strconv.Itoa(p.InPart), strconv.Itoa(p.Wrong), strconv.Itoa(p.Not),
		}})
	}
	if len(steps.Table.Rows) == 0 {
		steps.Table, steps.Lines = nil, []report.BlockLine{{Text: "Every place was answered rightly by everybody."}}
	} else {
		steps.Lines = []report.BlockLine{{Text: "Places that everybody answered rightly are left out."}}
	}
	faults := report.Block{Heading: "by fault", Table: &report.Table{Head: []string{"fault", "people", "who"}}}
	alone := 0
	for _, f := range c.Faults() {
		if weighty := f.Kind == rehearse.FaultSafety || f.Kind == rehearse.FaultHandOff; len(f.By) < 2 && !weighty {
			alone++
			continue
		}
		faults.Table.Rows = append(faults.Table.Rows, report.TableRow{Cells: []string{f.words(), strconv.Itoa(len(f.By)), strings.Join(f.By, ", ")}})
	}
	if len(faults.Table.Rows) == 0 {
		faults.Table = nil
	}
	switch {
	case alone > 0:
		faults.Lines = []report.BlockLine{{Text: fmt.Sprintf("Faults that one person alone made: %d. Their marks name them.", alone)}}
	case faults.Table == nil:
		faults.Lines = []report.BlockLine{{Text: "No fault was made."}}
	}
	return []report.Block{head, people, steps, faults}
}

func (f Fault) words() string {
	if f.Name == "" {
		return f.Kind.String()
	}
	return f.Kind.String() + ": " + f.Name
}

func atOnce(s rehearse.Set) string {
	if len(s.FailAt) == 0 {
		return ""
	}
	words := make([]string, len(s.FailAt))
	for i, k := range s.FailAt {
		words[i] = string(k)
	}
	return "; fails at once: " + strings.Join(words, ", ")
}

func deadline(s rehearse.Set) string {
	if s.Deadline.IsZero() {
		return ""
	}
	return ", deadline " + s.Deadline.Format("2 Jan 2006 15:04")
}

func attempts(s rehearse.Set) string {
	switch s.Attempts {
	case 0:
		return ""
	case 1:
		return ", one attempt"
	}
	return fmt.Sprintf(", %d attempts", s.Attempts)
}

func minutes(s float64) string { return fmt.Sprintf("%d min", int(s/60+0.5)) }

// WriteCSV writes a line for every attempt, in the form of RFC 4180, with an apostrophe before what a spreadsheet would
// take for a formula. The error is the writer's.
func (c Results) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{{
		"name", "attempt", "counts", "at", "finished", "late", "points", "of", "percent", "asked", "right", "in_part", "wrong",
		"not_examined", "faults", "failed_at_once", "result", "total_s", "visit",
	}}
	for _, st := range c.Students {
		for i := range st.Attempts {
			a := &st.Attempts[i]
			t, result := a.Marks.Tally(), ""
			if st.Best == a {
				result = c.Result(st)
			}
			n := func(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
			rows = append(rows, []string{
				export.Defuse(notation.CleanLine(st.Name, 0)), strconv.Itoa(a.Number), strconv.FormatBool(st.Best == a), a.Marks.At.Format(time.RFC3339),
				strconv.FormatBool(a.Marks.Finished), strconv.FormatBool(a.Late), n(a.Score.Points), n(a.Score.Of), n(a.Score.Percent),
				strconv.Itoa(t.Asked), strconv.Itoa(t.Right), strconv.Itoa(t.InPart), strconv.Itoa(t.Wrong), strconv.Itoa(t.NotExamined),
				strconv.Itoa(len(a.Marks.Faults())), strings.Join(a.Failed, "; "), result, n(a.Marks.TotalS), string(a.Marks.Visit),
			})
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("write the class: %w", err)
	}
	return nil
}

// Sheet is the mark sheet of one student: the points by part, what to do better, the global rating to be filled in by
// hand, and room to sign. A rating of the whole beside a list of points is common practice in practical exams.
func (c Results) Sheet(st Student) []report.Block {
	head := report.Block{Lines: []report.BlockLine{
		{Label: "Student: ", Text: st.Name},
		{Label: "Exam: ", Text: c.Set.Title},
		{Label: "Result: ", Text: c.Result(st)},
	}}
	blocks := []report.Block{head}
	if b := st.Best; b != nil {
		blocks[0].Lines = append(blocks[0].Lines,
			report.BlockLine{Label: "Points: ", Text: b.Score.String()},
			report.BlockLine{Label: "Taken: ", Text: b.Marks.At.Format("2 Jan 2006 15:04") + ", " + minutes(b.Marks.TotalS)},
			report.BlockLine{Label: "Horse: ", Text: fmt.Sprintf("%s, %s (simulated)", b.Marks.Horse, b.Marks.Class)})
		parts := report.Block{Heading: "points", Table: &report.Table{Head: []string{"part", "points", "of"}}}
		for _, p := range b.Score.Parts {
			parts.Table.Rows = append(parts.Table.Rows, report.TableRow{Cells: []string{p.Name, notation.FormatNumber(p.Points, 1), notation.FormatNumber(p.Of, 1)}})
		}
		better := report.Block{Heading: "to do better"}
		for i, text := range b.Marks.Better {
			better.Lines = append(better.Lines, report.BlockLine{Label: strconv.Itoa(i+1) + ". ", Text: text})
		}
		if len(b.Marks.Better) == 0 {
			better.Lines = []report.BlockLine{{Text: "Nothing: all that the case asks was examined, and every answer stands."}}
		}
		blocks = append(blocks, parts, better)
	}
	return append(blocks,
		report.Block{Heading: "rating of the whole, by the examiner", Lines: []report.BlockLine{{Text: "clear fail   [ ]      borderline   [ ]      pass   [ ]      good   [ ]      excellent   [ ]"}}},
		report.Block{Heading: "comment", Room: 3},
		report.Block{Sign: []string{"Student, date:", "Examiner, date:"}})
}
