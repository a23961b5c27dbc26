package volume_test

import (
	"strings"
	"testing"

	"loosebox/exam/volume"
)

func FuzzReadSyringes(f *testing.F) {
	for _, text := range []string{"ml,mark_ml,name\n3,0.1,small\n", "ml,mark_ml,name\n1e300,1e-300,x\n", "ml,mark_ml,name\n-1,0,\n\"", "", "ml;mark_ml;name\n", "ml,mark_ml,name\nNaN,Inf,\x1b[2J\n"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		table, err := volume.ReadSyringes(strings.NewReader(text), "syringes.csv")
		if err != nil {
			if !strings.Contains(err.Error(), "syringes.csv") {
				t.Fatalf("%v does not name the file", err)
			}
			return
		}
		for _, s := range table {
			if !(s.ML > 0 && s.MarkML > 0 && s.MarkML <= s.ML) {
				t.Fatalf("a syringe of %v mL with marks of %v", s.ML, s.MarkML)
			}
		}
	})
}
