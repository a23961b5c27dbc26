package main

import (
	"context"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/storage"
	"loosebox/storage/share"
)

func (e *env) shareCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "share", Short: "several laptops, one record: together through a stick or a folder", Args: cobra.NoArgs,
		Long: `share brings the records of several laptops together, without a network. Each laptop
works by itself all day. Carry a USB drive from one to the next, or use a folder on a network drive. After two rounds each laptop
has every visit of every horse.

What is in the folder is not encrypted: whoever has the stick can read it.`,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(
		e.shareNowCommand(), e.shareStatusCommand(), e.shareWatchCommand(),
		e.shareStartCommand(), e.shareRequestCommand(), e.shareAdmitCommand(), e.shareJoinCommand(), e.shareOutCommand(),
	)
	return c
}

func (e *env) shareNowCommand() *cobra.Command {
	var folder string
	var asJSON bool
	c := &cobra.Command{
		Use: "now", Short: "exchange once with a folder", Args: cobra.NoArgs,
		Long: `now imports new lines from the folder and writes the lines that the folder lacks.
Without --folder it uses the folder of the settings. Files in the folder are never
changed or removed. You can pull out the USB drive at any time; the next exchange
continues. A damaged file is skipped, and a good one is written beside it.`,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.record(func(r *storage.Record) error { return e.shareNow(c.Context(), r, folder, asJSON) })
		},
	}
	c.Flags().StringVar(&folder, "folder", "", "the folder, as on a stick (default: the folder of the settings)")
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object")
	return c
}

// shareFolder is the folder that is named, or that of the settings.
func shareFolder(r *storage.Record, folder string) (string, error) {
	if folder == "" {
		set, err := r.Settings()
		if err != nil {
			return "", err
		}
		folder = set.ShareFolder
	}
	if folder == "" {
		return "", usage("name a folder with --folder, or set one in the settings (g on the home screen)")
	}
	return filepath.Abs(folder)
}

// sharedJSON is what one exchange did.
type sharedJSON struct {
	Schema     string           `json:"schema"`
	Folder     string           `json:"folder"`
	Horses     int              `json:"horses_in"`
	Visits     int              `json:"visits_in"`
	Rehearsals int              `json:"rehearsals_in"`
	LinesIn    int              `json:"lines_in"`
	LinesOut   int              `json:"lines_out"`
	FilesOut   int              `json:"files_out"`
	Damaged    int              `json:"damaged_files"`
	Waiting    int              `json:"waiting"`
	Aside      []string         `json:"aside"`
	Branches   []storage.Branch `json:"branches"`      // logs that go on in two ways since now
	Unknown    int              `json:"unknown_lines"` // of laptops that are not in the practice
	Problem    *string          `json:"problem"`
}

func (e *env) shareNow(ctx context.Context, r *storage.Record, folder string, asJSON bool) error {
	dir, err := shareFolder(r, folder)
	if err != nil {
		return err
	}
	done, err := e.sharer.exchange(ctx, dir, false)
	if err != nil {
		return err
	}
	if asJSON {
		out := sharedJSON{
			Schema: "loosebox/share-now/1", Folder: dir, Horses: done.In.Horses, Visits: done.In.Visits, Rehearsals: done.In.Rehearsals,
			LinesIn: done.Came, LinesOut: done.Lines, FilesOut: done.Files, Damaged: done.Broken, Waiting: done.Waiting,
			Aside: append([]string{}, done.In.Aside...), Branches: append([]storage.Branch{}, done.In.Branches...), Unknown: unknownLines(done.Unknown),
		}
		if done.Unwritten != nil {
			text := inWords(done.Unwritten)
			out.Problem = &text
		}
		if err := e.printJSON(out); err != nil {
			return err
		}
		return done.Unwritten
	}
	if err := e.printf("%s", sharedText(done)); err != nil {
		return err
	}
	return done.Unwritten
}

// sharedText says what one exchange did, in lines.
func sharedText(done share.Result) string {
	text := "Nothing new came in.\n"
	if n := done.Came; n > 0 {
		text = fmt.Sprintf("Came in: %s, %s, %s.\n", notation.Counted(done.In.Horses, "horse"), notation.Counted(done.In.Visits, "visit"), notation.Counted(n, "line"))
	}
	switch {
	case done.Lines > 0:
		text += fmt.Sprintf("Went out: %s in %s.\n", notation.Counted(done.Lines, "line"), notation.Counted(done.Files, "file"))
	case done.Waiting == 0:
		text += "The folder has every line of this laptop.\n"
	}
	if done.Waiting > 0 {
		text += notation.Counted(done.Waiting, "line") + " still to go out.\n"
	}
	if done.Broken > 0 {
		text += notation.Counted(done.Broken, "damaged file") + " skipped.\n"
	}
	if n := unknownLines(done.Unknown); n > 0 {
		text += notation.Counted(n, "line") + " of laptops that are not in the practice stay in the folder.\n"
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
