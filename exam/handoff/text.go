package handoff

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam/notation"
)

// Text writes the page for a person, at most width columns: first what is read,
// then what is filed.
func (p Page) Text(width int) string {
	width = max(width, 40)
	var b strings.Builder
	wrap := func(lead, text string) {
		for i, line := range strings.Split(ansi.Wrap(text, width-len(lead), ""), "\n") {
			if i > 0 {
				lead = strings.Repeat(" ", len(lead))
			}
			b.WriteString(strings.TrimRight(lead+line, " ") + "\n")
		}
	}
	wrap("", fmt.Sprintf("Hand-off: %s, visit of %s", notation.CleanLine(p.Visit.Horse.Name, 0), p.Visit.OpenedAt.In(p.At.Location()).Format("2 January 2006 15:04")))
	wrap("", p.Stands())
	if p.Call != "" {
		wrap("", p.Call)
	}
	for _, s := range p.Sections {
		if len(s.Lines) == 0 {
			continue
		}
		b.WriteString("\n" + strings.ToUpper(s.Name) + "\n")
		for _, l := range s.Lines {
			wrap("  ", l)
		}
	}
	b.WriteString("\n")
	wrap("", fmt.Sprintf("Read aloud: about %.0f seconds.", p.Seconds()))
	wrap("Ask the vet to repeat: ", p.readBack())
	b.WriteString("\nFOR THE FILE, NOT READ\n")
	for _, part := range []struct {
		lead  string
		lines []string
	}{{"  S  ", p.Subject}, {"  O  ", p.Object}, {"  A  ", []string{ForTheVet}}, {"  P  ", []string{ForTheVet}}} {
		for i, l := range part.lines {
			if i > 0 {
				part.lead = "     "
			}
			wrap(part.lead, l)
		}
	}
	return b.String()
}

// readBack says whether the page was handed off and read back.
func (p Page) readBack() string {
	if len(p.HandOffs) == 0 {
		return "[ ]"
	}
	h := p.HandOffs[len(p.HandOffs)-1]
	mark := "[ ]"
	if h.ReadBack {
		mark = "[x]"
	}
	return fmt.Sprintf("%s %s, %s %s", mark, h.To, h.How, notation.SayWhen(h.At, p.At))
}
