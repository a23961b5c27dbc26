package gs1_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam/gs1"
	"loosebox/exam/notation"
)

func now() time.Time { return time.Date(2026, 11, 29, 11, 5, 0, 0, time.UTC) }

// The vectors follow the rules of the GS1 Barcode Syntax Dictionary and the GS1 General
// Specifications; 09506000134352 and its like are GS1's numbers for examples. ␝ stands
// for the separator, "; or" between readings of which a person chooses.
func TestVectors(t *testing.T) {
	const dated = "item 09506000134352, lot A1, use by 28 Feb 2027"
	for typed, want := range map[string]string{
		"]d201095060001343521727022810A1B2␝21XYZ9\r":         "item 09506000134352, lot A1B2, use by 28 Feb 2027, serial XYZ9",
		"]C101095060001343521727022810LOT7":                  "item 09506000134352, lot LOT7, use by 28 Feb 2027",
		"010950600013435210A1B2␝17270228␝21S1":               "item 09506000134352, lot A1B2, use by 28 Feb 2027, serial S1",
		"␝01095060001343521727020010A1":                      dated,
		"]d201095060001343521728020010A1":                    "item 09506000134352, lot A1, use by 29 Feb 2028",
		"]d20109506000134352␝17270228␝10A1␝":                 dated,
		"(01)09506000134352(17)270630(10)AB-12(21)99":        "item 09506000134352, lot AB-12, use by 30 Jun 2027, serial 99",
		"(01)09506000134352(10)A(7)B(21)99":                  "item 09506000134352, lot A(7)B, serial 99",
		"]d201095060001343521727022810A1|21XYZ9":             "item 09506000134352, lot A1, use by 28 Feb 2027, serial XYZ9",
		"]e001095060001343523103001250␝10A":                  "item 09506000134352, lot A, (3103) 001250",
		"]d2010950600013435271512345678␝1727022810A":         "item 09506000134352, lot A, use by 28 Feb 2027, (715) 12345678",
		"]d2010950600013435211260101172702281012345678":      "item 09506000134352, lot 12345678, use by 28 Feb 2027, (11) 260101",
		"]E09506000134352":                                   "item 09506000134352",
		"036000291452":                                       "item 00036000291452",
		"96385074":                                           "item 00000096385074",
		"1727022810A1":                                       "lot A1, use by 28 Feb 2027! no item number",
		"01095060001343521727022810A1B221XYZ9":               "item 09506000134352, lot A1B221XYZ9, use by 28 Feb 2027; or item 09506000134352, lot A1B2, use by 28 Feb 2027, serial XYZ9",
		"01095060001343521727022821XYZ910A1B2":               "item 09506000134352, use by 28 Feb 2027, serial XYZ910A1B2; or item 09506000134352, lot A1B2, use by 28 Feb 2027, serial XYZ9",
		"010950600013435210A117270228":                       "item 09506000134352, lot A117270228; or item 09506000134352, lot A1, use by 28 Feb 2027",
		"01095060001343522112345172702281012A":               "item 09506000134352, serial 12345172702281012A; or item 09506000134352, lot 12A, serial 1234517270228; or item 09506000134352, lot 12A, use by 28 Feb 2027, serial 12345",
		"01095060001343521727022810A1B2":                     "item 09506000134352, lot A1B2, use by 28 Feb 2027",
		"010950600013435010A1":                               "no: check digit",
		"]d201095060001343521727133110A1":                    "no: there is no month 13",
		"]d201095060001343521727023010A1":                    "no: February 2027 has no day 30",
		"]d201095060001343521777063010A":                     "item 09506000134352, lot A, use by 30 Jun 1977! 30 June 1977",
		"]d201095060001343521776063010A":                     "item 09506000134352, lot A, use by 30 Jun 2076! 30 June 2076",
		"]d20109506000134352172706":                          "no: (17) is cut off",
		"]d2010950600013435210A1␝10A2":                       "no: (10) is there twice: A1 and A2",
		"]Q301095060001343521727022810123456789012345678901": "no: (10) has 21 characters",
		"]d201095060001343524912345":                         "no: begins with no identifier",
		"]d1ABC123":                                          "no: no data of GS1",
		"985141000123456":                                    "no: microchip",
		"HTTP://EXAMPLE.COM":                                 "no: begins with no identifier",
		"9506000134351":                                      "no: check digit",
		"]d2010950600013435270032702281430␝10A1":             "item 09506000134352, lot A1, use by 28 Feb 2027 14:30",
		"]d2010950600013435270032702001430":                  "no: there is no day 0",
		"(01)09506000134352(49)1":                            `no: "(49)1" begins with no identifier`,
		"]d20295060001343524␝37":                             "no: check digit",
		"":                                                   "no: no data",
		"é":                                                  "no: no code",
	} {
		c, err := gs1.Read(strings.ReplaceAll(typed, "␝", "\x1d"), now())
		if no, refused := strings.CutPrefix(want, "no: "); refused {
			require.Error(t, err, typed)
			assert.ErrorAs(t, err, new(*notation.Refusal))
			assert.Contains(t, err.Error(), no, typed)
			continue
		}
		require.NoError(t, err, typed)
		want, doubt, _ := strings.Cut(want, "! ")
		var all []string
		for _, r := range c.Readings {
			all = append(all, r.Words())
		}
		assert.Equal(t, want, strings.Join(all, "; or "), typed)
		assert.Contains(t, strings.Join(c.Doubts, " "), doubt, typed)
		assert.Equal(t, doubt != "", len(c.Doubts) > 0, typed)
	}
}

func TestWhatIsSurelyACode(t *testing.T) {
	for text, want := range map[string]bool{
		"]d20109506000134352": true, "0109506000134352": true, "(01)0950": true, "A1\x1d21B": true,
		"10A1B2": false, "1727022810A1": false, "96385074": false, "LOT A1": false, "0109506000134350": false, "": false,
	} {
		assert.Equal(t, want, gs1.Is(text), text)
		if c, err := gs1.Read(text, now()); err == nil {
			assert.Equal(t, want, c.Sure, text)
		}
	}
	assert.Equal(t, "ABC123", gs1.Plain("]C0ABC123\r"))
}

func TestExpired(t *testing.T) {
	for text, want := range map[string]bool{
		"(01)09506000134352(17)261129": false, "(01)09506000134352(17)261128": true, "(01)09506000134352(17)261100": false,
		"(01)09506000134352(7003)2611291104": true, "(01)09506000134352(7003)2611291105": false, "(01)09506000134352": false,
	} {
		c, err := gs1.Read(text, now())
		require.NoError(t, err)
		assert.Equal(t, want, c.Readings[0].Expired(now()), text)
	}
}

// What was put into a code comes out of it, whatever the order; where the separator
// after lot or serial is lost it is among the readings.
func TestWhatIsCodedIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[A-Z0-9/.-]{1,12}`)
		lot, serial := text.Draw(t, "lot"), text.Draw(t, "serial")
		parts := rapid.Permutation([]string{"17270228", "10" + lot + "\x1d", "21" + serial + "\x1d"}).Draw(t, "order")
		whole := "0109506000134352" + strings.Join(parts, "")
		has := func(text string) bool {
			c, err := gs1.Read(text, now())
			if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			for _, r := range c.Readings {
				if r.Lot() == lot && r.Serial() == serial && r.Expiry() == "2027-02-28" && r.Item() == "09506000134352" {
					return true
				}
			}
			return false
		}
		if !has("]d2" + whole) {
			t.Fatalf("%q is not read as it was made", whole)
		}
		lost := strings.ReplaceAll(whole, "\x1d", "")
		if c, err := gs1.Read(lost, now()); err == nil && !has(lost) {
			t.Fatalf("%q has no such reading: %v", lost, c.Readings)
		}
	})
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"]d201095060001343521727022810A1B2\x1d21XYZ9", "(01)09506000134352(17)270630(10)A", "01095060001343522112345172702281012A", "7003", "253", "\x1d"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := gs1.Read(text, now())
		gs1.Is(text)
		gs1.Plain(text)
		if err != nil {
			return
		}
		if len(c.Readings) == 0 || len(c.Readings) > 9 {
			t.Fatalf("%q: %d readings", text, len(c.Readings))
		}
		for _, r := range c.Readings {
			seen := map[string]bool{}
			for _, e := range r.Elements {
				if seen[e.AI] {
					t.Fatalf("%q: %s twice", text, e.AI)
				}
				seen[e.AI] = true
			}
			if r.Lot() != notation.CleanLine(r.Lot(), 20) {
				t.Fatalf("%q: lot %q", text, r.Lot())
			}
		}
	})
}
