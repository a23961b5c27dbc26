package rehearse

import (
	"bytes"
	"embed"
	"fmt"
	"math/rand/v2"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

//go:embed cases/*.yaml
var files embed.FS

// CaseNames are the built-in cases in the order in which they are offered, the healthy adult first.
func CaseNames() []string {
	return []string{
		"clover", "juniper", "tarn", "sorrel", "dapple", "plover", "nettle", "harrow", "merrow", "linnet", "bracket",
		"sedge", "rowan", "hazel", "tansy", "fennel", "cobble", "larch", "willow", "burdock", "fescue",
	}
}

// Cases reads the built-in cases in that order. An error means the program was built from damaged files.
func Cases(table *exam.Steps, held *ranges.Table) ([]Case, error) {
	names := CaseNames()
	out := make([]Case, 0, len(names))
	for _, name := range names {
		text, err := CaseFile(name)
		if err != nil {
			return nil, err
		}
		c, err := ReadCase(strings.NewReader(text), name+".yaml", table, held)
		if err != nil {
			return nil, fmt.Errorf("read the built-in case %s: %w", name, err)
		}
		out = append(out, c)
	}
	return out, nil
}

// CaseFile is the text of a built-in case, as the pattern for a teacher's own.
func CaseFile(name string) (string, error) {
	data, err := files.ReadFile("cases/" + name + ".yaml")
	if err != nil {
		return "", exam.NoSuch("there is no built-in case %q", notation.CleanLine(name, 40))
	}
	return string(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))), nil
}

// CaseNamed finds a case.
func CaseNamed(cases []Case, name string) (Case, bool) {
	for _, c := range cases {
		if c.Name == name {
			return c, true
		}
	}
	return Case{}, false
}

// AnyCase picks one of the cases by seed, for a rehearsal in which nobody knows what is coming.
func AnyCase(cases []Case, seed uint64) (Case, bool) {
	if len(cases) == 0 {
		return Case{}, false
	}
	return cases[rand.New(rand.NewPCG(seed, 0x10_05e_b0c5)).IntN(len(cases))], true
}
