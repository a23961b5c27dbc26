// Package manual holds the manual: a page for each task and a few to look things up in, as
// text that the program carries. They are read by "loosebox help TOPIC" and as manual pages.
package manual

import (
	"embed"
	"io/fs"
	"slices"
	"strings"
)

//go:embed *.md
var pages embed.FS

// tasks are the pages of a day's work, in its order; references are those that are looked up something in.
var (
	tasks = []string{
		"examining", "counting", "comparing", "handing-off", "needles", "rehearsing", "importing", "backups", "sharing", "practice", "joining", "hub",
		"sealing", "looking-up", "own-files",
	}
	references = []string{"limits", "commands", "keyboard", "sums", "record", "scripts", "access", "sources"}
)

// Page is a page of the manual.
type Page struct {
	Topic string
	Title string // in one line
	Text  string // under the title, in Markdown: paragraphs, lists, headings, and commands set in by four spaces
	Task  bool   // a task that is followed from top to bottom; otherwise something is looked up in it
}

// Pages lists every page, in the order of a day's work; what is looked up comes last.
func Pages() []Page {
	var out []Page
	for _, topic := range slices.Concat(tasks, references) {
		if p, ok := Of(topic); ok {
			out = append(out, p)
		}
	}
	return out
}

// Of is the page about a topic; false where there is none.
func Of(topic string) (Page, bool) {
	task := slices.Contains(tasks, topic)
	if !task && !slices.Contains(references, topic) {
		return Page{}, false
	}
	data, err := fs.ReadFile(pages, topic+".md")
	if err != nil {
		return Page{}, false
	}
	title, text, _ := strings.Cut(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	return Page{topic, strings.TrimPrefix(title, "# "), strings.TrimSpace(text) + "\n", task}, true
}
