package exam_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Every parser of what people type: it never panics, takes only what it can write
// again, and writes nothing that could move a cursor.

func refusal(t *testing.T, err error) {
	t.Helper()
	var r *notation.Refusal
	if !errors.As(err, &r) || r.Error() == "" {
		t.Fatalf("%v is no refusal with a sentence", err)
	}
}

func FuzzReadChip(f *testing.F) {
	for _, text := range []string{"", "001164000123456", "001 164 000 123 456", "999000000000001", "000123456789012", "abc123def", "001164000123456\x1b[2J", "９００１６４０００１２３４５６"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		chip, err := exam.ReadChip(text)
		if err != nil {
			refusal(t, err)
			return
		}
		again, err := exam.ReadChip(chip)
		if err != nil || again != chip {
			t.Fatalf("%q was taken for %q, and that is not taken again (%q, %v)", text, chip, again, err)
		}
		if len(chip) == 15 && strings.Trim(chip, "0123456789") != "" {
			t.Fatalf("%q is no ISO 11784 number", chip)
		}
		if chip != notation.CleanLine(chip, 0) {
			t.Fatalf("%q could move the cursor", chip)
		}
	})
}

func FuzzReadUELN(f *testing.F) {
	for _, text := range []string{"", "276-409 09 345678 9", "276409099345678", "DE276409099345678", "276Äa09099345678"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, err := exam.ReadUELN(text)
		if err != nil {
			refusal(t, err)
			return
		}
		again, err := exam.ReadUELN(n)
		if err != nil || again != n || n != "" && len(n) != 15 {
			t.Fatalf("%q was taken for %q, and that for %q (%v)", text, n, again, err)
		}
	})
}

func FuzzDates(f *testing.F) {
	for _, text := range []string{
		"", "2019", "about 2008", "2019-05-04 03:20", "foal", "02/27", "exp 2/2027", "Feb 2027", "28/02/2027", "03/04/2027", "31.2.2027", "feb27",
		"18:00", "24:00", "6h", "3d", "999999999d", "2026-02-30", "0000-00-00", "９:００", "9223372036854775807h", "2026-03-04t09:30",
	} {
		f.Add(text)
	}
	now := time.Date(2026, 3, 1, 9, 0, 0, 0, time.FixedZone("", 5*3600+45*60))
	f.Fuzz(func(t *testing.T, text string) {
		if b, err := exam.ReadBirth(text, "papers"); err != nil {
			refusal(t, err)
		} else if y := b.At.Year(); !b.At.IsZero() && (y < 0 || y > 9999) {
			t.Fatalf("born in the year %d", y)
		}
		if at, err := notation.ReadWhen(text, now); err != nil {
			refusal(t, err)
		} else if y := at.Year(); y < 1900 || y > 2200 {
			t.Fatalf("%q happened in the year %d", text, y)
		} else if again, err := notation.ReadWhen(at.Format("2006-01-02 15:04"), now); err != nil || !again.Equal(at.Truncate(time.Minute)) {
			t.Fatalf("%q is %s, and that is %s (%v)", text, at, again, err)
		}
		if e, err := notation.ReadExpiry(text); err != nil {
			refusal(t, err)
		} else if last, err := time.Parse(notation.DayForm, e.Last); err != nil {
			t.Fatalf("%q expires on %q", text, e.Last)
		} else if again, err := notation.ReadExpiry(e.Last); err != nil || again.Last != e.Last {
			t.Fatalf("%q expires on %s, and that on %q (%v)", text, last, again.Last, err)
		}
		if day, err := notation.ReadDay(text, now); err != nil {
			refusal(t, err)
		} else if len(day) != 4 && len(day) != 7 && len(day) != 10 || day > "2026-03-01" {
			t.Fatalf("%q was on %q", text, day)
		}
		if day, err := notation.ReadComing(text, now); err != nil {
			refusal(t, err)
		} else if day < "2026-03-01" {
			t.Fatalf("%q comes on %q", text, day)
		}
		if at, err := notation.ReadUntil(text, now); err != nil {
			refusal(t, err)
		} else if at != nil && (!at.After(now) || at.Sub(now) > 366*24*time.Hour) {
			t.Fatalf("%q ends at %s", text, at)
		}
	})
}

func FuzzQuantities(f *testing.F) {
	for _, text := range []string{
		"", "38,4", "101.2F", "-2", "1e9", "NaN", "0x10", "500 kg", "76in", "15.2", "15.4", "2305843009213693952", "65 %", "31C", "88 F", "-300C", "１２",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if q, err := notation.ParseQuantity(text); err != nil {
			refusal(t, err)
		} else if math.IsNaN(q.Value) || math.IsInf(q.Value, 0) {
			t.Fatalf("%q is %v", text, q.Value)
		} else if math.Abs(q.Value) < 1e6 {
			again, err := notation.ParseQuantity(q.Text(9))
			if err != nil || again.Unit != q.Unit || math.Abs(again.Value-q.Value) > 1e-8 {
				t.Fatalf("%q is %q, and that is %v (%v)", text, q.Text(9), again, err)
			}
		}
		if q, err := exam.ReadAir(text, notation.Celsius); err != nil {
			refusal(t, err)
		} else if q != nil {
			if c, ok := q.In(notation.Celsius); !ok || c.Value < -50 || c.Value > 60 {
				t.Fatalf("%q is air of %v", text, q)
			}
		}
		if v, err := exam.ReadHumidity(text); err != nil {
			refusal(t, err)
		} else if v != nil && !(*v >= 0 && *v <= 100) {
			t.Fatalf("%q is %v %%", text, *v)
		}
	})
}

// FuzzReadLine feeds the reader of stored lines with what a broken disk may hold:
// every error is damage, and what is taken gets its numbers and folds or is refused.
func FuzzReadLine(f *testing.F) {
	e := exam.Entry{Visit: "v", Kind: exam.EntryOpened, By: "Ann", Opening: &exam.Opening{Horse: exam.Horse{Name: "Bracken"}}}
	body, err := exam.LineBody(exam.LineEntry, e)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(body)
	f.Add([]byte(`e{"kind":"opened","opening":null}`))
	f.Add([]byte(`e{"kind":"struck","amend":{"again":"x"},"corrects":"00"}`))
	f.Add([]byte(`e{"kind":"injection","injection":{"of":"aa","phase":"given","order":{"decision_line":"bb"}}}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		var e exam.Entry
		if err := exam.ReadLine(exam.LineEntry, body, &e); err != nil {
			if !errors.Is(err, exam.ErrDamaged) {
				t.Fatalf("%v is not called damage", err)
			}
			return
		}
		var numbers exam.Numbers
		list := []exam.Entry{numbers.Next(e, "aa"), numbers.Next(exam.Entry{Visit: e.Visit, Kind: exam.EntryNote, Note: "x", CorrectsLine: "aa"}, "bb")}
		if list[1].Corrects != 1 || list[1].Prev != "aa" {
			t.Fatalf("%+v is not numbered", list[1])
		}
		if _, err := exam.Fold(list); err != nil && !errors.Is(err, exam.ErrDamaged) {
			t.Fatalf("%v is not called damage", err)
		}
	})
}

// FuzzCover reads what a decision speaks of.
func FuzzCover(f *testing.F) {
	for _, text := range []string{"", "injection of vaccine A, IM", "blood draw", "draw", "inject", "injection of ", "IM", "subcutaneous", "\x1b[2J"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if c, err := exam.ReadCover(text); err == nil && (c.Kind != exam.Injecting && c.Kind != exam.Drawing || c.Product != notation.CleanLine(c.Product, 0)) {
			t.Fatalf("%q covers %+v", text, c)
		}
		if r, err := exam.ReadRoute(text); err == nil && string(r) != notation.CleanLine(string(r), 0) {
			t.Fatalf("%q is the route %q", text, r)
		}
	})
}
