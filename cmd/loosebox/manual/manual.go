// Package manual holds the manual: one page a task, as text that the program carries.
package manual

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed *.md
var pages embed.FS

// order is the order in which the pages are listed: a day's work first.
var order = []string{
	"examining", "counting", "comparing", "handing-off", "needles", "rehearsing", "importing", "backups", "sharing",
	"looking-up", "own-files", "limits",
}

// Page is one page.
type Page struct {
	Topic string
	Title string // in one line
	Text  string // under the title: paragraphs, lists, and commands set in by four spaces
}

// Pages lists every page, in the order of a day's work.
func Pages() []Page {
	out := make([]Page, 0, len(order))
	for _, topic := range order {
		if p, ok := Of(topic); ok {
			out = append(out, p)
		}
	}
	return out
}

// Of is the page about a topic; false where there is none.
func Of(topic string) (Page, bool) {
	if !slices.Contains(order, topic) {
		return Page{}, false
	}
	data, err := fs.ReadFile(pages, topic+".md")
	if err != nil {
		return Page{}, false
	}
	title, text, _ := strings.Cut(string(data), "\n")
	return Page{topic, strings.TrimPrefix(title, "# "), strings.TrimSpace(text) + "\n"}, true
}

// Topics are the names of the pages' files.
func Topics() ([]string, error) {
	list, err := fs.Glob(pages, "*.md")
	for i, name := range list {
		list[i] = strings.TrimSuffix(path.Base(name), ".md")
	}
	return list, err
}

// Commands are the commands that a page shows, a line each.
func (p Page) Commands() []string {
	var out []string
	for line := range strings.Lines(p.Text) {
		if text, ok := strings.CutPrefix(line, "    loosebox"); ok {
			out = append(out, strings.TrimSpace("loosebox"+text))
		}
	}
	return out
}
