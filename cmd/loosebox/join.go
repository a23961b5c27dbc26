package main

import (
	"cmp"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/storage"
)

// joinFlags are what somebody says who joins or parts horses.
type joinFlags struct {
	by, why      string
	look, asJSON bool
}

func (f *joinFlags) on(c *cobra.Command) {
	byFlag(c, &f.by, "who looked")
	c.Flags().StringVar(&f.why, "why", "", "why, in a few words")
	jsonFlag(c, &f.asJSON)
}

func (e *env) joinCommand() *cobra.Command {
	var f joinFlags
	c := &cobra.Command{
		Use: "join HORSE [HORSE]", Short: "one horse that was entered twice", Args: cobra.RangeArgs(1, 2),
		Long: `join makes one horse of two that were entered for it, on every laptop. Search, lists,
due dates, comparison and export then show one horse. It has the visits, cautions and
reactions of both. Where the two say different things, loosebox settle lists it.
Nothing of either is lost: loosebox part gives both back.

--look shows both side by side and saves nothing. With one horse: the records it is made of.`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.existing(func(r *storage.Record) error {
				one, err := findHorse(r, args[0])
				if err != nil {
					return err
				}
				if len(args) == 1 {
					return e.showJoined(one, f.asJSON)
				}
				other, err := findHorse(r, args[1])
				if err != nil {
					return err
				}
				if one.ID == other.ID {
					return e.stayOne(r, one, args, f)
				}
				if f.look {
					return e.lookAtBoth(one, other, f.asJSON)
				}
				return e.join(r, exam.Joining{Horses: []exam.HorseID{one.ID, other.ID}}, one, other, f)
			})
		},
	}
	f.on(c)
	c.Flags().BoolVar(&f.look, "look", false, "show both side by side and save nothing")
	return c
}

func (e *env) partCommand() *cobra.Command {
	var f joinFlags
	c := &cobra.Command{
		Use: "part RECORD | part HORSE HORSE", Short: "two horses that were joined, or look like one", Args: cobra.RangeArgs(1, 2),
		Long: `part RECORD takes a record out of the horse that it was joined to. Name it by its number
from loosebox join HORSE, its chip, or its own name. Each has its own visits and details
again. Cautions and reactions that were added to both meanwhile stay with both.

part HORSE HORSE saves that two horses are two, so that they are not proposed again.`,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.existing(func(r *storage.Record) error {
				one, err := findHorse(r, args[0])
				if err != nil {
					return err
				}
				if len(args) == 1 {
					return e.partRecord(r, one, args[0], f)
				}
				other, err := findHorse(r, args[1])
				if err != nil {
					return err
				}
				if one.ID == other.ID {
					return e.partRecord(r, one, args[1], f)
				}
				return e.join(r, exam.Joining{Horses: []exam.HorseID{one.ID, other.ID}, Apart: true}, one, other, f)
			})
		},
	}
	f.on(c)
	return c
}

// partRecord takes the record that a text means out of a horse.
func (e *env) partRecord(store exam.Store, h exam.Horse, text string, f joinFlags) error {
	if len(h.Joined) == 0 {
		return usage("%s was entered once: there is nothing to part", notation.CleanLine(h.Name, 40))
	}
	out, err := recordOf(h, text)
	if err != nil {
		return err
	}
	j := exam.Joining{Horses: []exam.HorseID{out.ID}, Apart: true}
	var rest []string
	for _, r := range h.Joined {
		if r.ID != out.ID {
			j.Horses = append(j.Horses, r.ID)
			rest = append(rest, notation.CleanLine(r.Name, 40))
		}
	}
	other := exam.Horse{Name: strings.Join(rest, " and ")}
	if err := e.join(store, j, out, other, f); err != nil || f.asJSON {
		return err
	}
	for _, l := range settle.OnlyJoined(h) {
		if err := e.printf("counts for neither now: %s\n", l); err != nil {
			return err
		}
	}
	return nil
}

// recordOf is the record of a joined horse that a text means. Where two records are all
// there is and the text means both, either one parts them.
func recordOf(h exam.Horse, text string) (exam.Horse, error) {
	want := strings.ToLower(notation.CleanLine(text, 0))
	var found []exam.Horse
	for _, r := range h.Joined {
		id := string(r.ID)
		if id == want || r.HasChip(strings.ToUpper(want)) || strings.EqualFold(r.Name, want) || len(want) >= 6 && strings.HasPrefix(id, want) {
			found = append(found, r)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(h.Joined) == 2:
		return h.Joined[1], nil
	}
	return exam.Horse{}, usage("%s is made of %d records: name one by its number from loosebox join %q", h.Name, len(h.Joined), h.Name)
}

// joinedJSON is what join and part say.
type joinedJSON struct {
	Schema  string         `json:"schema"`
	Horse   exam.HorseID   `json:"horse"`
	Joined  bool           `json:"joined"`
	Records []exam.HorseID `json:"records"` // that the horse is made of
	Differ  []string       `json:"differ"`  // fields that are to be settled
	// Fields are both records side by side, with --look: nothing was joined then.
	Fields []fieldJSON `json:"fields,omitempty"`
}

// join writes that horses are one, or are not.
func (e *env) join(store exam.Store, j exam.Joining, one, other exam.Horse, f joinFlags) (err error) {
	if j.By, err = e.person(store, f.by); err != nil {
		return err
	}
	j.At, j.Why = e.now(), notation.CleanLine(f.why, 0)
	if err := asUsage(store.Join(j)); err != nil {
		return err
	}
	h, err := store.Horse(j.Horses[0])
	if err != nil {
		return err
	}
	a, b := notation.CleanLine(one.Name, 40), notation.CleanLine(other.Name, 80)
	switch {
	case f.asJSON:
		return e.sayJoined("loosebox/"+map[bool]string{true: "part", false: "join"}[j.Apart]+"/1", h)
	case j.Apart:
		return e.printf("%s and %s are two horses. Each has its own visits and details.\n", a, b)
	}
	if err := e.printf("%s and %s are one horse now, called %s. loosebox part %s gives both back.\n", a, b, notation.CleanLine(h.Name, 40), string(h.Joined[len(h.Joined)-1].ID)); err != nil {
		return err
	}
	for _, i := range settle.OfHorse(h) {
		if err := e.printf("to settle: %s\n", i.Text); err != nil {
			return err
		}
	}
	return nil
}

func (e *env) sayJoined(schema string, h exam.Horse) error {
	out := joinedJSON{Schema: schema, Horse: h.ID, Joined: len(h.Joined) > 0, Differ: []string{}}
	for _, r := range h.Records() {
		out.Records = append(out.Records, r.ID)
	}
	for _, d := range h.Differ {
		out.Differ = append(out.Differ, d.Field)
	}
	return e.printJSON(out)
}

// showJoined lists the records of a horse.
func (e *env) showJoined(h exam.Horse, asJSON bool) error {
	if asJSON {
		return e.sayJoined("loosebox/join/1", h)
	}
	if len(h.Joined) == 0 {
		return e.printf("%s was entered once.\n", notation.CleanLine(h.Name, 40))
	}
	rows := [][]string{{"record", "chip", "owner", "number"}}
	for _, r := range h.Joined {
		rows = append(rows, []string{r.Name, r.Chip, r.Owner, string(r.ID)})
	}
	if err := columns(e.out, rows); err != nil || len(h.Joined) != 2 {
		return err
	}
	return cmp.Or(e.printf("\n"), e.beside(h.Joined[0], h.Joined[1]))
}

// fieldJSON is one thing that one of two horses has.
type fieldJSON struct {
	Label  string `json:"label"`
	One    string `json:"one"`
	Other  string `json:"other"`
	Differ bool   `json:"differ"`
}

// lookAtBoth shows two horses side by side and saves nothing.
func (e *env) lookAtBoth(one, other exam.Horse, asJSON bool) error {
	if !asJSON {
		return e.beside(one, other)
	}
	out := joinedJSON{Schema: "loosebox/join/1", Horse: one.ID, Records: []exam.HorseID{one.ID, other.ID}, Differ: []string{}}
	for _, f := range settle.Beside(one, other) {
		out.Fields = append(out.Fields, fieldJSON{f.Label, f.One, f.Other, f.Differ})
	}
	return e.printJSON(out)
}

// beside shows two horses side by side.
func (e *env) beside(one, other exam.Horse) error {
	rows := [][]string{{"", "one", "other", ""}}
	for _, f := range settle.Beside(one, other) {
		mark := ""
		if f.Differ {
			mark = "differs"
		}
		rows = append(rows, []string{f.Label, cmp.Or(f.One, "-"), cmp.Or(f.Other, "-"), mark})
	}
	return columns(e.out, rows)
}
