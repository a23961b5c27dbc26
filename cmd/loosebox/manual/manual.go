// Package manual holds the manual: one page a task, as text that the program carries.
package manual

import (
	"embed"
	"io/fs"
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
