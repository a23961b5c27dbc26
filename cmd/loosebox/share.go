package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/storage/share"
)

func (e *env) shareCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "share", Short: "several laptops, one record: by a stick, a folder or a hub", Args: cobra.NoArgs,
		Long: `share brings the records of several laptops together, without a network. Each laptop
works by itself all day. Carry a USB drive from one to the next, or use a folder on a network drive. After two rounds each laptop
has every visit of every horse. A practice may name a hub as well, a server where its laptops
meet over a network (share hub).

Whoever has the stick can read it, unless the practice seals it (share seal).`,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(
		e.shareNowCommand(), e.shareArrivedCommand(), e.shareStatusCommand(), e.shareWatchCommand(),
		e.shareStartCommand(), e.shareRequestCommand(), e.shareAdmitCommand(), e.shareJoinCommand(), e.shareOutCommand(), e.shareHubCommand(), e.shareSealCommand(),
	)
	return c
}

func (e *env) shareNowCommand() *cobra.Command {
	var folder string
	var asJSON bool
	c := &cobra.Command{
		Use: "now", Short: "exchange once with a folder, and with the practice's hub", Args: cobra.NoArgs,
		Long: `now imports new lines from the folder and writes the lines that the folder lacks.
Without --folder it uses the folder of the settings and the hub of the practice. Files in the folder are never
changed or removed. You can pull out the USB drive at any time; the next exchange
continues. A damaged file is skipped, and a good one is written beside it.`,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.record(func(r *storage.Record) error { return e.shareNow(c.Context(), r, folder, asJSON) })
		},
	}
	c.Flags().StringVar(&folder, "folder", "", "the folder, as on a stick (default: the folder of the settings)")
	jsonFlag(c, &asJSON)
	return c
}

// meeting is one place of an exchange, and what came of it.
type meeting struct {
	share.Result
	folder string
	hub    *roster.Hub
	err    error // why nothing was exchanged
}

func (m meeting) place() string {
	if m.hub != nil {
		return hubPlace(*m.hub)
	}
	return m.folder
}

// meetings are the places to exchange with: the folder that is named, or the folder of the
// settings and the hub of the practice.
func meetings(r *storage.Record, folder string) ([]meeting, error) {
	if folder != "" {
		dir, err := filepath.Abs(folder)
		return []meeting{{folder: dir}}, err
	}
	var list []meeting
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	if set.ShareFolder != "" {
		list = append(list, meeting{folder: set.ShareFolder})
	}
	at, ok, err := hubOf(r)
	if err != nil {
		return nil, err
	}
	if ok {
		list = append(list, meeting{hub: &at})
	}
	if len(list) == 0 {
		return nil, usage("name a folder with --folder, or set one in the settings (g on the home screen). A practice can name a hub too: share hub")
	}
	return list, nil
}

// exchangeAll exchanges with each place. Where one of several is not there, the others
// count; the error is of all.
func (s *sharer) exchangeAll(ctx context.Context, list []meeting, background bool) error {
	var all []error
	for i := range list {
		m := &list[i]
		if m.hub != nil {
			m.Result, m.err = s.meet(ctx, *m.hub, background)
		} else {
			m.Result, m.err = s.exchange(ctx, m.folder, background)
		}
		if m.err != nil {
			all = append(all, m.err)
		}
	}
	if len(all) < len(list) {
		return nil
	}
	return errors.Join(all...)
}

// sharedJSON is what one exchange did.
type sharedJSON struct {
	Schema     string           `json:"schema"`
	Folder     string           `json:"folder"` // empty where there was none
	Hub        string           `json:"hub"`    // its address; empty for none
	Horses     int              `json:"horses_in"`
	Visits     int              `json:"visits_in"`
	Rehearsals int              `json:"rehearsals_in"`
	LinesIn    int              `json:"lines_in"`
	LinesOut   int              `json:"lines_out"`
	FilesOut   int              `json:"files_out"`
	Damaged    int              `json:"damaged_files"`
	Waiting    int              `json:"waiting"`
	Sealed     int              `json:"sealed_lines"` // that this laptop cannot open
	Aside      []string         `json:"aside"`
	Branches   []storage.Branch `json:"branches"`      // logs that go on in two ways since now
	Unknown    int              `json:"unknown_lines"` // of laptops that are not in the practice
	Problem    *string          `json:"problem"`
}

func (e *env) shareNow(ctx context.Context, r *storage.Record, folder string, asJSON bool) error {
	list, err := meetings(r, folder)
	if err != nil {
		return err
	}
	told, end := e.progress(ctx, "sharing")
	err = e.sharer.exchangeAll(told, list, false)
	end()
	if err != nil {
		return err
	}
	out := sharedJSON{Schema: "loosebox/share-now/1", Aside: []string{}, Branches: []storage.Branch{}}
	text := ""
	var wrong error
	for _, m := range list {
		if len(list) > 1 {
			text += notation.CleanLine(m.place(), 0) + ":\n"
		}
		if m.err != nil {
			text += inWords(m.err) + "\n"
		} else {
			text += sharedText(m.Result, m.hub != nil)
		}
		out.add(m)
		wrong = errors.Join(wrong, m.Unwritten)
		if problem := errors.Join(m.err, m.Unwritten); problem != nil && out.Problem == nil {
			said := inWords(problem)
			out.Problem = &said
		}
	}
	if asJSON {
		err = e.printJSON(out)
	} else {
		err = e.printf("%s", text)
	}
	if err != nil {
		return err
	}
	return wrong
}

// add adds what came of one place.
func (o *sharedJSON) add(m meeting) {
	if m.hub != nil {
		o.Hub = m.hub.Address
	} else {
		o.Folder = m.folder
	}
	o.Horses, o.Visits, o.Rehearsals = o.Horses+m.In.Horses, o.Visits+m.In.Visits, o.Rehearsals+m.In.Rehearsals
	o.LinesIn, o.LinesOut, o.FilesOut = o.LinesIn+m.Came, o.LinesOut+m.Lines, o.FilesOut+m.Files
	o.Damaged, o.Waiting, o.Unknown = o.Damaged+m.Broken, max(o.Waiting, m.Waiting), o.Unknown+unknownLines(m.Unknown)
	o.Sealed = max(o.Sealed, m.Sealed)
	o.Aside, o.Branches = append(o.Aside, m.In.Aside...), append(o.Branches, m.In.Branches...)
}

// cameIn counts what came in; settings and the like are lines alone.
func cameIn(done share.Result) string {
	var parts []string
	count := func(n int, what string) {
		if n > 0 {
			parts = append(parts, notation.Counted(n, what))
		}
	}
	count(done.In.Horses, "horse")
	count(done.In.Visits, "visit")
	count(done.In.Rehearsals, "rehearsal")
	count(done.Came, "line")
	return strings.Join(parts, ", ")
}

// sharedText says what one exchange did, in lines; byHub says that it was with the hub.
func sharedText(done share.Result, byHub bool) string {
	place, piece := "folder", "file"
	if byHub {
		place, piece = "hub", "message"
	}
	text := "Nothing new came in.\n"
	if done.Came > 0 {
		text = "Came in: " + cameIn(done) + ".\n"
	}
	switch {
	case done.Lines > 0:
		text += fmt.Sprintf("Went out: %s in %s.\n", notation.Counted(done.Lines, "line"), notation.Counted(done.Files, piece))
	case done.Waiting == 0:
		text += "The " + place + " has every line of this laptop.\n"
	}
	if done.Waiting > 0 {
		text += notation.Counted(done.Waiting, "line") + " still to go out.\n"
	}
	if done.Broken > 0 {
		text += notation.Counted(done.Broken, "damaged "+piece) + " skipped.\n"
	}
	if n := unknownLines(done.Unknown); n > 0 {
		text += notation.Counted(n, "line") + " of laptops that are not in the practice stay in the " + place + ".\n"
	}
	if done.Sealed > 0 {
		text += sealedText(done.Sealed) + "\n"
	}
	for _, b := range done.In.Branches {
		text += b.String() + "\n"
	}
	for i, a := range done.In.Aside {
		if i == maxSaid {
			text += fmt.Sprintf("And %d more that do not fit.\n", len(done.In.Aside)-i)
			break
		}
		text += a + "\n"
	}
	return text
}
