package main

import (
	"slices"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/storage"
)

type horseJSON struct {
	ID       exam.HorseID    `json:"id"`
	Name     string          `json:"name"`
	Kind     exam.AnimalKind `json:"kind"`
	Age      string          `json:"age"`
	Class    ranges.Class    `json:"class"`
	Owner    string          `json:"owner,omitempty"`
	Place    string          `json:"place,omitempty"`
	Cautions []string        `json:"cautions,omitempty"`
	Visits   int             `json:"visits"`
	LastAt   *time.Time      `json:"last_at"`
	Open     exam.VisitID    `json:"open_visit,omitempty"`
}

type visitJSON struct {
	ID       exam.VisitID `json:"id"`
	At       time.Time    `json:"at"`
	ClosedAt *time.Time   `json:"closed_at"`
	Routine  string       `json:"routine"`
	By       string       `json:"by"`
	Findings int          `json:"findings"`
	NotDone  int          `json:"not_done"`
	Level    *exam.Level  `json:"level"` // null where nothing was answered
	// Answered of Steps of the routine are answered; Steps is 0 where it is not known.
	Answered int          `json:"steps_answered"`
	Steps    int          `json:"steps"`
	Struck   *exam.Struck `json:"struck,omitempty"` // the visit does not count
}

func (e *env) horsesCommand() *cobra.Command {
	var find string
	var asJSON bool
	c := &cobra.Command{
		Use: "horses", Short: "list the horses in the record", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return e.existing(func(r *storage.Record) error { return e.listHorses(r, find, asJSON) })
		},
	}
	c.Flags().StringVar(&find, "find", "", "only horses with this text in name, owner, location, breed or chip")
	jsonFlag(c, &asJSON)
	return c
}

func (e *env) listHorses(store exam.Store, find string, asJSON bool) error {
	all, err := store.Horses()
	if err != nil {
		return err
	}
	now := e.now()
	list := []horseJSON{}
	for _, f := range all {
		if !f.Horse.Matches(find) {
			continue
		}
		h := f.Horse
		j := horseJSON{
			ID: h.ID, Name: h.Name, Kind: h.Kind, Age: h.AgeWords(now), Class: exam.ClassOf(h, now).Name,
			Owner: h.Owner, Place: h.Place, Cautions: h.Cautions, Visits: f.Visits, Open: f.Open,
		}
		if !f.LastAt.IsZero() {
			at := f.LastAt
			j.LastAt = &at
		}
		list = append(list, j)
	}
	if asJSON {
		return e.printJSON(struct {
			Schema string      `json:"schema"`
			Horses []horseJSON `json:"horses"`
		}{"loosebox/horses/1", list})
	}
	if len(list) == 0 {
		e.say("No horse is in the record yet. Run loosebox and press n to add one.")
		return nil
	}
	rows := [][]string{{"horse", "class", "age", "owner", "visits", "last", "number"}}
	for _, h := range list {
		last := ""
		if h.LastAt != nil {
			last = notation.ShownOn(*h.LastAt, e.now())
		}
		rows = append(rows, []string{h.Name, h.Class.String(), h.Age, h.Owner, itoa(h.Visits), last, string(h.ID)})
	}
	return columns(e.out, rows)
}

func (e *env) visitsCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "visits HORSE", Short: "list a horse's visits, newest first", Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.listVisits(r, args[0], asJSON) })
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func (e *env) listVisits(store exam.Store, name string, asJSON bool) error {
	h, err := findHorse(store, name)
	if err != nil {
		return err
	}
	visits, err := store.Past(h.ID, 0)
	if err != nil {
		return err
	}
	struck, err := store.Struck(h.ID)
	if err != nil {
		return err
	}
	list := make([]visitJSON, 0, len(visits)+len(struck))
	for i, v := range visits {
		list = append(list, e.visitLine(v, visits[i+1:]))
	}
	for _, v := range struck {
		list = append(list, e.visitLine(v, nil))
	}
	slices.SortStableFunc(list, func(a, b visitJSON) int { return b.At.Compare(a.At) })
	if asJSON {
		return e.printJSON(struct {
			Schema string       `json:"schema"`
			Horse  exam.HorseID `json:"horse"`
			Visits []visitJSON  `json:"visits"`
		}{"loosebox/visits/1", h.ID, list})
	}
	rows := [][]string{{"visit", "routine", "by", "findings", "not done", "level so far", "answered", "number"}}
	for _, v := range list {
		when := notation.ShownAt(v.At, e.now())
		switch {
		case v.Struck != nil:
			when += " VOIDED"
		case v.ClosedAt == nil:
			when += " open"
		}
		rows = append(rows, []string{when, v.Routine, v.By, itoa(v.Findings), itoa(v.NotDone), rated(v.Level), exam.Coverage{Answered: v.Answered, Of: v.Steps}.Short(), shortNumber(v.ID)})
	}
	return columns(e.out, rows)
}

// rated is the level of a visit in a table.
func rated(l *exam.Level) string {
	if l == nil {
		return "not known"
	}
	return l.String()
}

func (e *env) visitLine(v exam.Visit, earlier []exam.Visit) visitJSON {
	j := visitJSON{
		ID: v.ID, At: v.OpenedAt, ClosedAt: v.ClosedAt, Routine: v.Routine, By: v.By, Struck: v.Struck,
	}
	c := v.CoverageIn(e.routines, e.steps)
	j.Answered, j.Steps, j.Level = c.Answered, c.Of, c.Rated(e.judge.Visit(v, earlier).Level)
	for _, f := range v.Findings {
		if f.Done() {
			j.Findings++
		} else {
			j.NotDone++
		}
	}
	return j
}
