package routinefile

import (
	"fmt"
	"io"
	"slices"

	"github.com/goccy/go-yaml"

	"loosebox/exam"
)

// fileRoutine and fileAsk are a routine as its file holds it.
type fileRoutine struct {
	Name  string `yaml:"name"`
	Title string `yaml:"title"`
	About string `yaml:"about"`
	Steps []any  `yaml:"steps"` // a step's identity, or a fileAsk
}

type fileAsk struct {
	Step    string   `yaml:"step"`
	Sites   []string `yaml:"sites,omitempty,flow"`
	Heading string   `yaml:"heading,omitempty"`
}

const fileHead = `# A routine: the order in which a horse is examined.
# Change the name, then move, leave out or add steps. A step written alone is
# asked at all its sites; left and right must both be asked, nothing twice. A
# heading says where you stand from there on.
`

// Write writes a routine as a file that a person can change and that
// Read takes. A built-in routine is written under the name my-NAME,
// because its own name is taken.
func Write(w io.Writer, r exam.Routine, t *exam.Steps) error {
	if _, err := io.WriteString(w, fileHead); err != nil {
		return fmt.Errorf("write routine: %w", err)
	}
	out := fileRoutine{Name: r.Name, Title: r.Title, About: r.About}
	if !r.Own {
		out.Name, out.Title = "my-"+r.Name, "My "+r.Title
	}
	for _, a := range r.Asks {
		out.Steps = append(out.Steps, fileItem(a, t))
	}
	text, err := yaml.MarshalWithOptions(out, yaml.IndentSequence(true))
	if err != nil {
		return fmt.Errorf("write routine: %w", err)
	}
	if _, err := w.Write(text); err != nil {
		return fmt.Errorf("write routine: %w", err)
	}
	return nil
}

// fileItem is the shortest way to write an ask.
func fileItem(a exam.Ask, t *exam.Steps) any {
	item := fileAsk{Step: string(a.Step), Heading: a.Heading}
	if s, ok := t.ByID(a.Step); ok && len(s.Sites) > 0 && !slices.Equal(a.Sites, s.Sites) {
		for _, site := range a.Sites {
			item.Sites = append(item.Sites, string(site))
		}
	}
	if item.Heading == "" && len(item.Sites) == 0 {
		return item.Step
	}
	return item
}
