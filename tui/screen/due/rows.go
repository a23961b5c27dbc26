package due

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam/due"
	"loosebox/exam/notation"
)

// rowsOf are the lines of one horse: what is for the veterinarian, rechecks and
// doses by how pressing they are, and what is not known.
func rowsOf(l due.List, table *due.Table) []row {
	var rows []row
	for _, text := range l.Questions {
		rows = append(rows, row{status: "ask", what: text, style: asking, more: []string{text}})
	}
	for _, status := range []due.Status{due.Overdue, due.Due, due.Next, due.NotKnown} {
		for _, r := range l.Rechecks {
			if r.Status == status {
				rows = append(rows, recheckRow(r, l.At))
			}
		}
		for _, i := range l.Items {
			if i.Status == status {
				rows = append(rows, itemRow(i, table))
			}
		}
	}
	for _, text := range l.Notes {
		rows = append(rows, row{status: "note", what: text, more: []string{text}})
	}
	return rows
}

func styleOf(s due.Status) style {
	switch s {
	case due.Overdue:
		return pressing
	case due.Due:
		return soon
	case due.Next, due.NotKnown:
	}
	return plain
}

func recheckRow(r due.Recheck, now time.Time) row {
	return row{
		status: r.Status.String(), what: "follow-up: " + notation.CleanLine(r.What, 0), when: r.When(now), style: styleOf(r.Status), visit: r.Visit,
		more: []string{
			"follow-up: " + notation.CleanLine(r.What, 0),
			fmt.Sprintf("set by %s on %s", notation.CleanLine(r.By, 0), notation.ShownOn(r.At, now)),
		},
	}
}

func itemRow(i due.DiseaseDue, table *due.Table) row {
	r := row{status: i.Status.String(), what: i.Name, style: styleOf(i.Status), when: span(i)}
	if i.Of > 0 {
		r.given = fmt.Sprintf("%d of %d", i.Given, i.Of)
	}
	if i.Incomplete {
		r.given += ", incomplete"
	}
	r.more = append(r.more, strings.Join(i.Why, "; ")+".")
	if i.Row.Note != "" {
		r.more = append(r.more, "schedule: "+i.Row.Note)
	}
	if i.Last != nil {
		r.visit = i.Last.Visit
		r.more = append(r.more, lastDose(*i.Last))
	}
	r.source = sourceOf(i, table)
	return r
}

// span is when something is due: a day, or its first and last day.
func span(i due.DiseaseDue) string {
	switch {
	case i.By.IsZero():
		return "day not known"
	case i.From.Before(i.By):
		return notation.ShownSpan(i.From, i.By)
	}
	return i.By.Format(notation.DayShown)
}

func lastDose(d due.GivenDose) string {
	text := "last dose: " + d.Day()
	if product := notation.CleanLine(d.Product, 0); product != "" {
		text += ", " + product
	}
	if lot := notation.CleanLine(d.Lot, 0); lot != "" {
		text += ", lot " + lot
	}
	if d.Noted {
		basis := notation.CleanLine(d.Basis, 0)
		if basis == "" {
			basis = "what somebody said"
		}
		text += ", recorded from: " + basis
	}
	return text
}

// sourceOf says whose schedule a line is from: name and version, the row as it
// stands there, where it was read and how sure that is.
func sourceOf(i due.DiseaseDue, table *due.Table) []string {
	row := i.Row
	if row.Disease == "" {
		return nil
	}
	out := []string{"schedule: " + notation.CleanLine(table.Version(), 0)}
	steps := []string{}
	for _, w := range []due.When{row.First, row.Second, row.Third} {
		if text := w.String(); text != "" {
			steps = append(steps, text)
		}
	}
	text := fmt.Sprintf("its row: %s, %s, %s", i.Name, row.Class, strings.ReplaceAll(row.Group, "_", " "))
	if len(steps) > 0 {
		text += ": " + strings.Join(steps, ", then ")
	}
	if again := row.Again.String(); again != "" {
		text += "; again " + again
	}
	out = append(out, text)
	if row.Source != "" {
		return append(out, fmt.Sprintf("%s: %s", row.Evidence, notation.CleanLine(row.Source, 0)))
	}
	return append(out, row.Evidence.String())
}
