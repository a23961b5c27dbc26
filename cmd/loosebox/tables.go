package main

import (
	"runtime/debug"
	"slices"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

type rangeJSON struct {
	Measure string `json:"measure"`
	Class   string `json:"class"`
	Unit    string `json:"unit"`
	Usual   limits `json:"usual"`
	Recheck limits `json:"recheck"`
	Tell    limits `json:"tell_the_vet"`
	Words   string `json:"words,omitempty"`
	Origin  string `json:"origin"`
	Lent    string `json:"lent_from,omitempty"`
}

type limits struct {
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
	Evidence string   `json:"evidence,omitempty"` // of the high limit, and of the low one where that says nothing else
	Source   string   `json:"source,omitempty"`
	// LowEvidence and LowSource are those of the low limit, where they differ.
	LowEvidence string `json:"low_evidence,omitempty"`
	LowSource   string `json:"low_source,omitempty"`
}

func (e *env) rangesCommand() *cobra.Command {
	var class string
	var asJSON, summary bool
	c := &cobra.Command{
		Use: "ranges", Short: "the range tables with source and evidence", Args: cobra.NoArgs,
		Long: `ranges prints every range: usual, recheck and tell the vet. A row belongs to one
class of animal, or is borrowed from another class, which it names. A practice can
override rows with ranges.csv in the data folder. --summary counts the limits by
kind of source and class.`,
		RunE: func(*cobra.Command, []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			e.tell()
			if class != "" && !e.knownClass(class) {
				return usage("no class is called %q%s", notation.CleanLine(class, 40), thereAre(class, classNames()))
			}
			if summary {
				return e.summarizeRanges(class, asJSON)
			}
			return e.listRanges(class, asJSON)
		},
	}
	c.Flags().StringVar(&class, "class", "", "only this class; without it all of them")
	c.Flags().BoolVar(&summary, "summary", false, "how many limits have which kind of source, by class")
	jsonFlag(c, &asJSON)
	return c
}

func (e *env) listRanges(class string, asJSON bool) error {
	list := []rangeJSON{}
	rows := [][]string{{"class", "measure", "limits"}}
	for _, r := range e.ranges.Rows() {
		if class != "" && string(r.Class) != class {
			continue
		}
		list = append(list, rangeJSON{
			Measure: string(r.Measure), Class: string(r.Class), Unit: string(r.Unit), Words: r.Words, Origin: string(r.Origin), Lent: string(r.From),
			Usual: e.limits(r.Usual), Recheck: e.limits(r.Recheck), Tell: e.limits(r.Tell),
		})
		text := r.Explain()
		if r.From != "" {
			text += "; borrowed from " + r.From.String()
		}
		rows = append(rows, []string{r.Class.String(), string(r.Measure), text})
	}
	if asJSON {
		return e.printJSON(struct {
			Schema string      `json:"schema"`
			Ranges []rangeJSON `json:"ranges"`
		}{"loosebox/ranges/1", list})
	}
	return columns(e.out, rows)
}

func (e *env) knownClass(class string) bool { return slices.Contains(classNames(), class) }

func classNames() []string {
	var names []string
	for _, c := range ranges.Classes() {
		names = append(names, string(c))
	}
	return names
}

func (e *env) limits(l ranges.Limit) limits {
	out := limits{Low: l.Low, High: l.High, Evidence: string(l.Evidence), Source: e.ranges.Cite(l.Source)}
	if l.LowEvidence != "" {
		out.LowEvidence = string(l.LowEvidence)
	}
	if l.LowSource != "" {
		out.LowSource = e.ranges.Cite(l.LowSource)
	}
	return out
}

func (e *env) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "the version of the program", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			version, commit := "unknown", ""
			if info, ok := debug.ReadBuildInfo(); ok {
				version = info.Main.Version
				for _, s := range info.Settings {
					if s.Key == "vcs.revision" {
						commit = " " + s.Value
					}
				}
			}
			return e.printf("loosebox %s%s\n", version, commit)
		},
	}
}
