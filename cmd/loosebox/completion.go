package main

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/storage"
)

// offer has the shell complete horses, visits, steps, routines and cases, by the
// words with which a command is written.
func (e *env) offer(c *cobra.Command) {
	words := strings.Fields(c.Use)[1:]
	c.ValidArgsFunction = func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= len(words) {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		known := e.known(strings.Trim(words[len(args)], "[]"))
		if known == nil {
			return nil, cobra.ShellCompDirectiveDefault // a file
		}
		return beginning(known(), typed), cobra.ShellCompDirectiveNoFileComp
	}
	for flag, word := range map[string]string{"horse": "HORSE", "routine": "ROUTINE", "case": "CASE", "listen": "STEP"} {
		known := e.known(word)
		if c.Flags().Lookup(flag) == nil {
			continue
		}
		// It fails only where the flag is not there.
		_ = c.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			return beginning(known(), typed), cobra.ShellCompDirectiveNoFileComp
		})
	}
}

// known is what may stand for a word; nil for a word that is anything.
func (e *env) known(word string) func() []string {
	switch word {
	case "HORSE":
		return func() []string {
			return e.inRecord(func(r *storage.Record) (out []string) {
				all, _ := r.Horses() // a record that cannot be read completes nothing
				for _, f := range all {
					out = append(out, f.Horse.Name)
				}
				return out
			})
		}
	case "VISIT":
		return func() []string {
			return append([]string{"last\tthe newest visit"}, e.inRecord(func(r *storage.Record) []string { return e.recentNumbers(r) })...)
		}
	case "REHEARSAL":
		return func() []string {
			return append([]string{"last\tthe newest rehearsal"}, e.inRecord(func(r *storage.Record) []string { return e.recentNumbers(r.Rehearsals()) })...)
		}
	case "STEP":
		return places
	case "ROUTINE":
		return func() (out []string) {
			if e.tables() == nil {
				for _, r := range e.routines {
					out = append(out, r.Name+"\t"+r.Title)
				}
			}
			return out
		}
	case "CASE":
		return func() (out []string) {
			if e.tables() == nil {
				all, _ := e.cases()()
				for _, c := range all {
					out = append(out, c.Name+"\t"+c.Title)
				}
			}
			return out
		}
	}
	return nil
}

// places are the steps, and their sites where they have several.
func places() (out []string) {
	for _, s := range steps.Table().All() {
		out = append(out, string(s.ID)+"\t"+s.Name)
		for _, site := range s.Sites {
			out = append(out, string(s.ID)+":"+string(site)+"\t"+s.Name)
		}
	}
	return out
}

// mostOffered is how many visits are offered.
const mostOffered = 30

func (e *env) recentNumbers(r exam.Store) (out []string) {
	recent, _ := r.Recent(mostOffered)
	for _, v := range recent {
		out = append(out, shortNumber(v.ID)+"\t"+notation.CleanLine(v.Horse.Name, 40)+", "+notation.ShownAt(v.OpenedAt, e.now()))
	}
	return out
}

// inRecord reads from the record beside whoever uses it; nothing where that is not possible.
func (e *env) inRecord(work func(*storage.Record) []string) []string {
	dir := e.dataDir()
	if dir == "" {
		return nil
	}
	r, err := storage.Open(dir, storage.Options{ReadOnly: true, Beside: true, KeyDir: e.keyDir(), Wait: 300 * time.Millisecond})
	if err != nil {
		return nil
	}
	defer r.Close() //nolint:errcheck // read only
	return work(r)
}

func beginning(list []string, typed string) (out []string) {
	for _, word := range list {
		if strings.HasPrefix(strings.ToLower(word), strings.ToLower(typed)) {
			out = append(out, word)
		}
	}
	return out
}
