package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/cpuguy83/go-md2man/v2/md2man"
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"loosebox/cmd/loosebox/manual"
	"loosebox/exam/notation"
)

func (e *env) manCommand() *cobra.Command {
	return &cobra.Command{
		Use: "man DIR", Short: "write the manual pages into a folder", Args: cobra.ExactArgs(1),
		Long: `man writes manual pages into a folder. Each command has one (section 1), and so
has each topic of the manual (section 7). man -l FILE shows one. It makes a
missing folder. It replaces pages of another version, and asks about any other file.`,
		RunE: func(c *cobra.Command, args []string) error { return e.writeManual(c.Root(), args[0]) },
	}
}

// writeManual makes the pages apart and then puts them into the folder.
func (e *env) writeManual(root *cobra.Command, dir string) error {
	temp, err := os.MkdirTemp("", "loosebox-manual-")
	if err != nil {
		return fmt.Errorf("the manual pages cannot be made: %w", err)
	}
	defer func() { _ = os.RemoveAll(temp) }()
	now := e.now()
	if err := doc.GenManTree(root, &doc.GenManHeader{Title: manTitle, Section: "1", Source: "loosebox", Date: &now}, temp); err != nil {
		return fmt.Errorf("the manual pages cannot be made: %w", err)
	}
	for _, p := range manual.Pages() {
		if err := os.WriteFile(filepath.Join(temp, "loosebox-"+p.Topic+".7"), topicPage(p, now), 0o600); err != nil {
			return fmt.Errorf("the manual pages cannot be made: %w", err)
		}
	}
	pages, err := os.ReadDir(temp)
	if err != nil {
		return fmt.Errorf("the manual pages cannot be read back: %w", err)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil { //nolint:gosec // everybody may read the manual
		return fmt.Errorf("the folder cannot be made: %w", err)
	}
	for _, p := range pages {
		name := filepath.Join(dir, p.Name())
		if !isForeign(name) {
			continue
		}
		text := notation.CleanLine(name, 0) + " is there and is no manual page of loosebox"
		if !e.mayAsk() || !e.yes("%s. Write over it, and over others like it?", text) {
			return fmt.Errorf("%s; nothing was saved; move it away, or name another folder", text)
		}
		break
	}
	for _, p := range pages {
		if err := putPage(filepath.Join(temp, p.Name()), filepath.Join(dir, p.Name())); err != nil {
			return fmt.Errorf("the manual page could not be written: %w", err)
		}
	}
	return e.printf("%d manual pages written to %s\n", len(pages), notation.CleanLine(dir, 0))
}

// topicPage is a page of the manual as roff.
func topicPage(p manual.Page, now time.Time) []byte {
	head := fmt.Sprintf("%% %q %q %q %q\n# NAME\nloosebox-%s \\- %s\n\n# DESCRIPTION\n", manTitle, "7", now.Format("Jan 2006"), "loosebox", p.Topic, p.Title)
	return md2man.Render([]byte(head + p.Text))
}

// manTitle stands in the first line of every page.
const manTitle = "LOOSEBOX"

// isForeign says that something stands at the name that is no page of ours.
func isForeign(name string) bool {
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return false
	}
	return err != nil || !bytes.Contains(data[:min(len(data), 200)], []byte(`.TH "`+manTitle+`"`))
}

// putPage gives a page its name when it is whole.
func putPage(from, name string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	if err := os.WriteFile(name+".part", data, 0o644); err != nil { //nolint:gosec // everybody may read the manual
		return err
	}
	return os.Rename(name+".part", name)
}
