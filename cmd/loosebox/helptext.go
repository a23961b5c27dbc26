package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"loosebox/cmd/loosebox/manual"
	"loosebox/exam/notation"
)

// narrow sets the paragraphs of a text as wide as a page. One with lines that are
// set in keeps its lines; those that are too long are broken.
func narrow(text string) string {
	paragraphs := strings.Split(text, "\n\n")
	for i, p := range paragraphs {
		lines := strings.Split(p, "\n")
		if !slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, " ") }) {
			paragraphs[i] = filled(strings.Join(lines, " "), pageWidth)
			continue
		}
		for n, line := range lines {
			lines[n] = broken(line, pageWidth)
		}
		paragraphs[i] = strings.Join(lines, "\n")
	}
	return strings.Join(paragraphs, "\n\n")
}

// setExamples sets examples as wide as a page: a line that goes on ends as shells have it.
func setExamples(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		var b strings.Builder
		at := 0
		for n, word := range shellWords().FindAllString(line, -1) {
			w := ansi.StringWidth(word)
			switch {
			case n == 0:
				b.WriteString("  ")
				at = 2
			case at+1+w > pageWidth-2:
				b.WriteString(" \\\n    ")
				at = 4
			default:
				b.WriteByte(' ')
				at++
			}
			b.WriteString(word)
			at += w
		}
		lines[i] = b.String()
	}
	return strings.Join(lines, "\n")
}

// setPage sets a page of the manual as wide as a page: paragraphs are filled, items of a list hang, commands go on as
// shells have it, and what stands between fences is as it was printed.
func setPage(text string) string {
	var b strings.Builder
	var paragraph []string
	hang := ""
	flush := func() {
		if len(paragraph) > 0 {
			set := filled(strings.Join(paragraph, " "), pageWidth-len(hang))
			b.WriteString(strings.ReplaceAll(set, "\n", "\n"+hang) + "\n")
		}
		paragraph, hang = nil, ""
	}
	fenced := false
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		heading, isHeading := strings.CutPrefix(line, "## ")
		command, isCommand := strings.CutPrefix(line, "    ")
		switch {
		case strings.HasPrefix(line, "```"):
			fenced = !fenced
		case fenced && ansi.StringWidth(line) > pageWidth:
			b.WriteString(strings.TrimPrefix(setExamples(line), "  ") + "\n")
		case fenced:
			b.WriteString(line + "\n")
		case line == "":
			flush()
			b.WriteString("\n")
		case isHeading:
			b.WriteString(heading + "\n" + strings.Repeat("-", ansi.StringWidth(heading)) + "\n")
		case isCommand:
			b.WriteString(setExamples(command) + "\n")
		case strings.HasPrefix(line, "- "):
			flush()
			paragraph, hang = []string{line}, "  "
		default:
			paragraph = append(paragraph, strings.TrimSpace(line))
		}
	}
	flush()
	return b.String()
}

// shellWords are words as a shell takes them apart, quotes included.
var shellWords = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`"[^"]*"|\S+`) })

// filled breaks a text between words.
func filled(text string, wide int) string {
	var b strings.Builder
	at := 0
	for i, word := range strings.Fields(text) {
		w := ansi.StringWidth(word)
		switch {
		case i == 0:
		case at+1+w > wide:
			b.WriteByte('\n')
			at = 0
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += w
	}
	return b.String()
}

// topics lists the pages of the manual.
func topics() string {
	var names []string
	for _, p := range manual.Pages() {
		names = append(names, p.Topic)
	}
	return strings.Join(names, ", ")
}

// helpOn shows the help of a command that is there, or a page of the manual.
func helpOn(c *cobra.Command, args []string) error {
	if len(args) == 1 {
		if p, ok := manual.Of(args[0]); ok {
			_, err := fmt.Fprintf(c.OutOrStdout(), "%s\n\n%s", p.Title, setPage(p.Text))
			return err
		}
	}
	on, rest, err := c.Root().Find(args)
	if err != nil || len(rest) > 0 {
		word := strings.Join(args, " ")
		var names []string
		for _, sub := range c.Root().Commands() {
			names = append(names, sub.Name())
		}
		for _, p := range manual.Pages() {
			names = append(names, p.Topic)
		}
		return usage("there is no command and no page %q; loosebox help names them all%s", notation.CleanLine(word, 40), didYouMean(word, names))
	}
	on.InitDefaultHelpFlag()
	return on.Help()
}
