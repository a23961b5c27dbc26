package main

import (
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/desk"
	"loosebox/exam/episode"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/report/pdf"
	"loosebox/storage"
	screen "loosebox/tui/screen/episode"
	"loosebox/tui/theme"
)

// pageWide is how wide the text page of an episode is, in columns.
const pageWide = 100

// episodeDocument is the JSON of an episode; the table is that of compare.
type episodeDocument struct {
	Schema    string             `json:"schema"`
	Table     compare.Document   `json:"table"`
	Turns     []turnDocument     `json:"changed"`
	Medicines []medicineDocument `json:"medicines"`
	Next      *time.Time         `json:"next"`
	NextWhat  string             `json:"next_what,omitempty"`
}

type turnDocument struct {
	Step  exam.StepID `json:"step"`
	Site  exam.Site   `json:"site,omitempty"`
	Then  string      `json:"then"`
	Now   string      `json:"now"`
	Way   episode.Way `json:"way"`
	Level exam.Level  `json:"level"`
	Note  string      `json:"note,omitempty"`
}

type medicineDocument struct {
	At    time.Time `json:"at"`
	Words string    `json:"words"`
	By    string    `json:"by"`
	Said  bool      `json:"said"`
}

func (e *env) episodeCommand() *cobra.Command {
	var w wanted
	var file string
	var asJSON bool
	c := &cobra.Command{
		Use: "episode HORSE or VISIT", Short: "checks that follow each other within hours, side by side", Args: cobra.ExactArgs(1),
		Long: `episode shows the checks of one horse that follow each other within twelve hours.
It shows when the next is due, what changed beyond normal variation, and what was
given. loosebox exam HORSE --again 30min begins the next one.`,
		Example: "  loosebox episode Bramble",
		RunE: func(_ *cobra.Command, args []string) error {
			if asJSON {
				w.as = formJSON
			}
			if !slices.Contains([]string{formText, formJSON, formHTML, formPDF}, w.as) {
				return usage("an episode can be shown as text, json, html or pdf, not as %q", notation.CleanLine(w.as, 20))
			}
			if _, err := paperSize(w.paper); err != nil {
				return err
			}
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error {
				return e.toFile(file, func() error { return e.episode(r, args[0], w) })
			})
		},
	}
	c.Flags().StringVar(&w.as, "as", formText, "text, json, html or pdf")
	c.Flags().BoolVar(&asJSON, "json", false, "the same as --as json")
	c.Flags().StringVar(&w.paper, "paper", "", "of a PDF: A4 or Letter; the practice's own where it is left out")
	c.Flags().StringVarP(&file, "output", "o", "", "write to this file, which must not exist yet")
	return c
}

func (e *env) episode(r *storage.Record, name string, w wanted) error {
	h, err := findHorse(r, name)
	visit := exam.VisitID("")
	if err != nil {
		id, noVisit := whichVisit(r, name, e.now())
		if noVisit != nil {
			return err
		}
		v, noVisit := findVisit(r, id)
		if noVisit != nil {
			return err
		}
		h, visit = v.Horse, v.ID
	}
	set, err := r.Settings()
	if err != nil {
		return err
	}
	x, checks, err := desk.Desk{Store: r, Steps: e.steps, Routines: e.routines, Judge: e.judge}.Episode(h.ID, visit, set.Units, e.now())
	switch {
	case err != nil:
		return err
	case w.as == formJSON:
		return e.printJSON(documentOf(x))
	case len(checks) == 0 && w.as != formText: // no page without checks
		return exam.NoSuch("%s has no episode: no check was repeated within %s, and no hour is set for one", notation.CleanLine(h.Name, 60), notation.Span(episode.Apart))
	case len(checks) == 0:
		return e.printf("%s has no episode: no check was repeated within %s, and no hour is set for one.\n", notation.CleanLine(h.Name, 60), notation.Span(episode.Apart))
	case w.as == formHTML || w.as == formPDF:
		c := report.EpisodeInput{Horse: h, Episode: x, Now: e.now()}
		f, _ := formOf(w.as, forPerson)
		return f.page(e, set.Practice, pdf.Page{
			Title: c.Title(), Foot: c.Foot(), At: x.Table.Columns[0].At, Blocks: c.Blocks(), Charts: c.Charts(e.judge, e.steps, set.Units, checks),
		}, w)
	}
	page := screen.Page(x, theme.New(theme.Plain, false), pageWide, e.now())
	return e.printf("Episode of %s\n\n%s\n", notation.CleanLine(h.Name, 60), trimmed(page))
}

func trimmed(lines []string) string {
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

func documentOf(x episode.Episode) episodeDocument {
	d := episodeDocument{Schema: "loosebox/episode/1", Table: x.Table.Document(), Turns: []turnDocument{}, Medicines: []medicineDocument{}}
	for _, t := range x.Turns {
		d.Turns = append(d.Turns, turnDocument{t.Step, t.Site, t.Then, t.Now, t.Way, t.Level, t.Note})
	}
	for _, g := range x.Given {
		d.Medicines = append(d.Medicines, medicineDocument{g.At, g.Words, g.By, g.Said})
	}
	if x.Next != nil {
		d.Next, d.NextWhat = x.Next.Time, x.Next.What
	}
	return d
}
