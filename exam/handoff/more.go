package handoff

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/ranges"
)

// more says how many findings from one on are on the page and not read. Those for the veterinarian are named, so that none
// of them is lost for want of words; only where there is no room for every name are the last of them counted.
func (in Input) more(worries []Worry, next, room int) string {
	if next >= len(worries) {
		return ""
	}
	told, names := 0, []string{}
	said := in.named(worries[:next])
	for _, w := range worries[next:] {
		if w.Remark.Level < ranges.LevelTell {
			continue
		}
		told++
		for _, name := range in.named([]Worry{w}) {
			if !slices.Contains(said, name) {
				said, names = append(said, name), append(names, name)
			}
		}
	}
	lead := fmt.Sprintf("More on the page: %d", len(worries)-next)
	if told > 0 {
		lead += fmt.Sprintf(", %s %d", ranges.LevelTell, told)
	}
	for left := len(names); left > 0; left-- {
		line := lead + ": " + strings.Join(names[:left], ", ")
		if left < len(names) {
			line += fmt.Sprintf(" and %d more", len(names)-left)
		}
		if SpokenWords(line) <= room {
			return line + "."
		}
	}
	return lead + "."
}

// anyRoom is more than any line takes.
const anyRoom = 1 << 20

// named are the findings that worries are about, each step once.
func (in Input) named(worries []Worry) []string {
	var names []string
	for _, w := range worries {
		for _, name := range in.namesOf(w.Remark) {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}
