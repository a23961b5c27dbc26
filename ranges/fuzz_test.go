package ranges_test

import (
	"bytes"
	"errors"
	"testing"

	"loosebox/ranges"
)

// Whatever a practice's file holds, there is no panic; a refused file leaves a message that is safe to print, and rows
// that were taken are usable: known class, a usual edge, limits in order, a level for every value.
func FuzzWith(f *testing.F) {
	row := "temp.rectal,pony,C,37.0,38.3,p|q,,36.6,38.5,p,,36.5,39.0,LAT36,,words\n"
	f.Add([]byte(header + row))
	f.Add([]byte("\uFEFF# x\r\n" + header + row + "heart.rate,pony,/min,NaN,46,p,,,,,,,,,,\n"))
	f.Add([]byte(header + `heart.rate,"foal, first hour",/min,60,1e9,"p` + "\x1b[31m"))
	f.Add([]byte("measure;class\n\xff\xfe"))
	table := builtIn(f)
	f.Fuzz(func(t *testing.T, file []byte) {
		own, err := table.With(bytes.NewReader(file), "ours.csv")
		if err != nil {
			var bad *ranges.FileError
			if !errors.As(err, &bad) || own != nil {
				t.Fatalf("%v, table %v", err, own)
			}
			assertHarmless(t, err)
			return
		}
		for _, r := range own.Rows() {
			if r.Origin == ranges.OriginPractice {
				checkRow(t, r)
			}
		}
	})
}

func checkRow(t *testing.T, r ranges.Row) {
	if !r.Class.Valid() || !r.Measure.Valid() || r.Usual.Empty() || r.Brief() == "" {
		t.Fatalf("%+v", r)
	}
	for _, l := range limits(r) {
		for _, side := range sides() {
			v, ok := l.Edge(side)
			if !ok {
				continue
			}
			if s := l.On(side); s.Source == "" || s.Evidence != ranges.PracticeOwn {
				t.Fatalf("%+v", r)
			}
			if v < 0 || v > 999 {
				t.Fatalf("%v in %+v", v, r)
			}
		}
	}
	last := ranges.LevelUsual
	if r.Usual.High != nil {
		for v := *r.Usual.High; v < 1000; v += 7.3 {
			level, _, _ := r.Level(v)
			if level < last {
				t.Fatalf("%v is %s after %s", v, level, last)
			}
			last = level
		}
	}
}
