package main

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/exam/settle"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

func (e *env) shareStatusCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "status", Short: "the laptops of the record, the last exchange, lines that wait", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return e.existing(func(r *storage.Record) error { return e.shareStatus(r, asJSON) })
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

// statusJSON is how sharing stands.
type statusJSON struct {
	Schema   string        `json:"schema"`
	Practice *practiceJSON `json:"practice"`
	Laptops  []laptopJSON  `json:"laptops"`
	Waiting  int           `json:"waiting"` // lines since the last exchange; the most, where there are several places
	Unknown  int           `json:"unknown"` // lines in the folder of laptops that are not in the practice
	Apart    int           `json:"apart"`   // lines that laptops wrote after they were out
	Aside    []string      `json:"aside"`   // parts in the folder that do not fit, a sentence each
	ToSettle int           `json:"to_settle"`
	Last     *lastJSON     `json:"last"`
	Hub      string        `json:"hub"`          // address of the practice's hub; empty for none
	Sealed   bool          `json:"sealed"`       // what is exchanged is sealed to the practice's laptops
	Shut     int           `json:"sealed_lines"` // that this laptop could not open at the last exchange
}

type practiceJSON struct {
	Name  string `json:"name"`
	Words string `json:"words"`
}

type laptopJSON struct {
	Key      string `json:"key"`
	Name     string `json:"name"`
	Here     bool   `json:"this_laptop"`
	Standing string `json:"standing"` // in, out, unknown; empty without a practice
	Lines    uint64 `json:"lines"`
	Apart    int    `json:"apart"`
	// Copied says that the laptop or its disk was copied or restored, and both wrote.
	Copied bool `json:"copied"`
}

type lastJSON struct {
	At     string `json:"at"`
	Folder string `json:"folder"` // or "hub" and its address
}

func unknownLines(of map[string]int) (n int) {
	for _, lines := range of {
		n += lines
	}
	return n
}

func (e *env) shareStatus(r *storage.Record, asJSON bool) error {
	out := statusJSON{Schema: "loosebox/share-status/1"}
	met, err := exchanges(r)
	if err != nil {
		return err
	}
	last := together(met)
	have, err := r.Roster()
	if err != nil {
		return err
	}
	if out.Laptops, err = laptops(r, have); err != nil {
		return err
	}
	if out.ToSettle, err = e.toSettle(r); err != nil {
		return err
	}
	out.Aside = append([]string{}, last.Aside...)
	out.Waiting, out.Unknown = last.Waiting, unknownLines(last.Unknown)
	for _, l := range out.Laptops {
		out.Apart += l.Apart
	}
	if !have.None() {
		at, _ := have.Hub()
		out.Hub, out.Sealed, out.Shut = at.Address, have.Sealed(), last.Sealed
		out.Practice = &practiceJSON{have.Practice.Name, have.Practice.Words()}
	}
	if !last.At.IsZero() {
		out.Last = &lastJSON{last.At.Format(time.RFC3339), last.Place}
	}
	if asJSON {
		return e.printJSON(out)
	}
	return e.printStatus(out, met)
}

// toSettle is how much a person must look at because two laptops did not know of each other.
func (e *env) toSettle(r *storage.Record) (int, error) {
	if err := e.tables(); err != nil {
		return 0, err
	}
	list, err := settle.List(r, e.steps, e.now())
	return len(list), err
}

func (e *env) printStatus(s statusJSON, met []storage.Exchanged) error {
	text := "Never shared with another laptop.\n"
	if s.Last != nil {
		text = ""
		for _, x := range met {
			when := "none yet"
			if !x.At.IsZero() {
				when = notation.ShownAt(x.At, e.now())
			}
			text += fmt.Sprintf("Last exchange: %s, by the %s. %s wait.\n", when, byPlace(x.Place), notation.Counted(x.Waiting, "line"))
		}
	}
	if s.Practice != nil {
		text = fmt.Sprintf("Practice: %s. Its words: %s\n", notation.CleanLine(s.Practice.Name, 0), s.Practice.Words) + text
	}
	if s.Hub != "" {
		text = fmt.Sprintf("The practice meets at the hub %s.\n", notation.CleanLine(s.Hub, 0)) + text
	}
	if s.Sealed {
		text += "What is exchanged is sealed to the practice's laptops.\n"
	}
	if s.Shut > 0 {
		text += sealedText(s.Shut) + "\n"
	}
	if s.Unknown > 0 {
		text += notation.Counted(s.Unknown, "line") + " there are of laptops that are not in the practice.\n"
	}
	if s.ToSettle > 0 {
		text += fmt.Sprintf("%d to settle: loosebox settle lists what two laptops wrote without knowing of each other.\n", s.ToSettle)
	}
	for _, a := range s.Aside {
		text += a + "\n"
	}
	if err := e.printf("%s", text); err != nil {
		return err
	}
	rows := make([][]string, len(s.Laptops))
	for i, l := range s.Laptops {
		said := l.Standing
		if l.Here {
			said = "this laptop"
		}
		if l.Apart > 0 {
			said += fmt.Sprintf(", %s apart", notation.Counted(l.Apart, "line"))
		}
		if l.Copied {
			said += ", copied or restored: both wrote, and both count"
		}
		rows[i] = []string{l.Key, cmp.Or(notation.CleanLine(l.Name, 0), "-"), notation.Counted(int(l.Lines), "line"), said}
	}
	return columns(e.out, rows)
}

// laptops are those of the practice and those whose lines the record holds, this one first.
func laptops(r *storage.Record, have roster.Roster) ([]laptopJSON, error) {
	logs, err := r.Logs()
	if err != nil {
		return nil, err
	}
	apart, err := r.Apart()
	if err != nil {
		return nil, err
	}
	list, at := []laptopJSON{}, map[string]int{}
	of := func(key []byte) *laptopJSON {
		name := signedlog.Fingerprint(key)
		i, ok := at[name]
		if !ok {
			i = len(list)
			at[name], list = i, append(list, laptopJSON{Key: name, Here: string(r.Key()) == string(key), Apart: apart[fmt.Sprintf("%x", key)]})
			if !have.None() {
				list[i].Standing = roster.Unknown.String()
			}
		}
		return &list[i]
	}
	for _, l := range have.Laptops() {
		one := of(l.Key)
		one.Name, one.Standing = l.Name, l.Membership.String()
	}
	for _, l := range logs {
		one := of(l.Public)
		one.Lines += l.N - l.Base
		one.Copied = one.Copied || l.Row != l.Log
	}
	slices.SortStableFunc(list, func(a, b laptopJSON) int {
		if a.Here != b.Here {
			return map[bool]int{true: -1, false: 1}[a.Here]
		}
		return cmp.Or(cmp.Compare(a.Standing, b.Standing), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Key, b.Key))
	})
	return list, nil
}
