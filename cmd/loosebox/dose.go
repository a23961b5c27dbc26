package main

import (
	"cmp"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/gs1"
	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/tui/nav"
)

// doseFlags are what an earlier dose is made of.
type doseFlags struct {
	papers   due.Papers
	by, why  string
	code     string // of the package, as a scanner types it
	corrects string
	never    bool
	asJSON   bool
}

func (e *env) doseCommand() *cobra.Command {
	var f doseFlags
	c := &cobra.Command{
		Use: "past-dose HORSE", Short: "save a past dose from a passport or vaccination record", Args: cobra.ExactArgs(1),
		Long: `past-dose saves a dose that was given before, from a passport, a vaccination record
or the owner. due counts from it. It needs no decision, because nothing is injected
now. It goes into the open visit, or into one closed visit for past doses.
--corrects VISIT:NUMBER corrects a past dose. --never marks it as not given.`,
		Example: `  loosebox past-dose Bramble --product "Vaccine T" --against tetanus,WNV --on 2025-04-01 --basis passport --series-done --by "Ann Bell"`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.dose(r, args[0], f) })
		},
	}
	c.Flags().StringVar(&f.papers.Product, "product", "", "the product, as the record has it")
	c.Flags().StringSliceVar(&f.papers.Against, "against", nil, "diseases of the schedule, with commas; due counts the dose for each")
	c.Flags().StringVar(&f.papers.On, "on", "", "the day: 2026-03-04, or 2026-03 or 2026 if no more is known")
	c.Flags().StringVar(&f.papers.Basis, "basis", "", "where it comes from: passport, papers, owner")
	c.Flags().StringVar(&f.papers.Lot, "lot", "", "the lot number")
	c.Flags().StringVar(&f.code, "code", "", "the code of the package, as a scanner types it: lot, expiry, item and serial number")
	c.Flags().BoolVar(&f.papers.SeriesDone, "series-done", false, "the record shows the whole primary series")
	c.Flags().StringVar(&f.corrects, "corrects", "", "a past dose to correct, as VISIT:NUMBER")
	c.Flags().BoolVar(&f.never, "never", false, "with --corrects: it was entered by mistake and never given")
	c.Flags().StringVar(&f.why, "reason", "", "with --corrects: why it is corrected")
	byFlag(c, &f.by, "who enters it")
	jsonFlag(c, &f.asJSON)
	return c
}

func (e *env) dose(r *storage.Record, name string, f doseFlags) error {
	h, err := findHorse(r, name)
	if err != nil {
		return err
	}
	d, err := e.deps(r)
	if err != nil {
		return err
	}
	nothing := f.corrects == "" && f.papers.On == "" && f.papers.Product == "" && len(f.papers.Against) == 0
	if nothing && !e.lineByLine() {
		return e.screens(d, nav.Address{Screen: nav.Home}, nav.Address{Screen: nav.Dose, Horse: h.ID})
	}
	e.tell()
	by, err := e.person(r, f.by)
	if err != nil {
		return err
	}
	if f.corrects != "" {
		return e.putRight(d, h, by, f)
	}
	if f.never {
		return usage("--never goes with --corrects VISIT:NUMBER")
	}
	l, err := e.noted(f)
	if err != nil {
		return err
	}
	visit, back, err := d.Note(h.ID, l, by, e.now())
	if err != nil {
		return asUsage(err)
	}
	return e.sayDose(visit, back, f.asJSON)
}

// noted reads the dose of the flags by the schedule that holds.
func (e *env) noted(f doseFlags) (exam.InjectionLine, error) {
	schedule, err := e.schedule()
	if err != nil {
		return exam.InjectionLine{}, err
	}
	if f.code != "" {
		if err := f.scanned(e.now()); err != nil {
			return exam.InjectionLine{}, err
		}
	}
	l, err := schedule.Noted(f.papers, e.now())
	return l, asUsage(err)
}

// scanned takes what the code of a package says; the lot of --lot chooses between
// readings.
func (f *doseFlags) scanned(now time.Time) error {
	code, err := gs1.Read(f.code, now)
	if err != nil {
		return asUsage(err)
	}
	var fits []gs1.Interpretation
	var words []string
	for _, r := range code.Readings {
		words = append(words, r.Words())
		if f.papers.Lot == "" || r.Lot() == f.papers.Lot || r.Lot() == "" {
			fits = append(fits, r)
		}
	}
	if len(fits) != 1 {
		return usage("the code can be read as: %s; say which lot it is with --lot", strings.Join(words, "; or "))
	}
	r := fits[0]
	f.papers.Lot, f.papers.Expiry, f.papers.Item, f.papers.Serial = cmp.Or(r.Lot(), f.papers.Lot), r.Expiry(), r.Item(), r.Serial()
	return nil
}

// putRight corrects a dose that was noted.
func (e *env) putRight(d *nav.Deps, h exam.Horse, by string, f doseFlags) error {
	id, text, found := strings.Cut(f.corrects, ":")
	n, err := strconv.Atoi(text)
	if !found || err != nil {
		return usage("--corrects names the visit and the number of the dose in it, as VISIT:1, not %q", notation.CleanLine(f.corrects, 60))
	}
	if notation.CleanLine(f.why, 0) == "" {
		return usage("a correction says why: --reason TEXT")
	}
	visit, err := whichVisit(d.Store, id, d.Now())
	if err != nil {
		return err
	}
	v, err := findVisit(d.Store, visit)
	if err != nil {
		return err
	}
	i, ok := v.Injection(n)
	if !ok || !i.Earlier() || v.Horse.ID != h.ID {
		return exam.NoSuch("dose %d of this visit is not a past dose of %s", n, notation.CleanLine(h.Name, 40))
	}
	l := due.NotGiven(i)
	if !f.never {
		if l, err = e.noted(f); err != nil {
			return err
		}
	}
	back, err := d.PutRight(v.ID, n, l, by, f.why, e.now())
	if err != nil {
		return asUsage(err)
	}
	return e.sayDose(v.ID, back, f.asJSON)
}

func (e *env) sayDose(visit exam.VisitID, back exam.Entry, asJSON bool) error {
	if asJSON {
		return e.printJSON(struct {
			Schema string       `json:"schema"`
			Visit  exam.VisitID `json:"visit"`
			Entry  *entryJSON   `json:"entry"`
		}{"loosebox/past-dose/1", visit, entryOf(back)})
	}
	return e.printf("Saved as dose %d of visit %s (entry %d). loosebox due lists what is due next.\n", back.Injection.Number, visit, back.Seq)
}
