package gs1

import "strings"

// spec is one identifier, or a run of them, and what may stand behind it.
type spec struct {
	from, to string // first and last of a run; to is empty for one
	digits   int    // that many digits come first
	rest     kind   // what follows them
	min, max int    // how much of it
	fixed    bool   // needs no separator behind it
	sum      bool   // the last digit is a check digit
	dated    bool   // begins with a date, YYMMDD
	cut      bool   // stands on packages of medicines: a lost separator is looked for before it
}

type kind int

const (
	nothing kind = iota
	numbers
	signs // of set 82
)

// specs are the identifiers. Components without a meaning here are counted, not read.
func specs() []spec {
	return []spec{
		{from: "00", digits: 18, fixed: true, sum: true},
		{from: "01", to: "03", digits: 14, fixed: true, sum: true},
		{from: "10", rest: signs, min: 1, max: 20, cut: true},
		{from: "11", to: "13", digits: 6, fixed: true, dated: true, cut: true},
		{from: "15", to: "17", digits: 6, fixed: true, dated: true, cut: true},
		{from: "20", digits: 2, fixed: true},
		{from: "21", rest: signs, min: 1, max: 20, cut: true},
		{from: "22", rest: signs, min: 1, max: 20},
		{from: "235", rest: signs, min: 1, max: 28},
		{from: "240", to: "241", rest: signs, min: 1, max: 30},
		{from: "242", rest: numbers, min: 1, max: 6},
		{from: "243", rest: signs, min: 1, max: 20},
		{from: "250", to: "251", rest: signs, min: 1, max: 30},
		{from: "253", digits: 13, rest: signs, max: 17},
		{from: "254", rest: signs, min: 1, max: 20},
		{from: "255", digits: 13, rest: numbers, max: 12},
		{from: "30", rest: numbers, min: 1, max: 8, cut: true},
		{from: "3100", to: "3169", digits: 6, fixed: true},
		{from: "3200", to: "3379", digits: 6, fixed: true},
		{from: "3400", to: "3579", digits: 6, fixed: true},
		{from: "3600", to: "3699", digits: 6, fixed: true},
		{from: "37", rest: numbers, min: 1, max: 8},
		{from: "3900", to: "3909", rest: numbers, min: 1, max: 15},
		{from: "3910", to: "3919", digits: 3, rest: numbers, min: 1, max: 15},
		{from: "3920", to: "3929", rest: numbers, min: 1, max: 15},
		{from: "3930", to: "3939", digits: 3, rest: numbers, min: 1, max: 15},
		{from: "3940", to: "3943", digits: 4},
		{from: "3950", to: "3955", digits: 6},
		{from: "400", to: "401", rest: signs, min: 1, max: 30},
		{from: "402", digits: 17, sum: true},
		{from: "403", rest: signs, min: 1, max: 30},
		{from: "410", to: "417", digits: 13, fixed: true, sum: true},
		{from: "420", rest: signs, min: 1, max: 20},
		{from: "421", digits: 3, rest: signs, min: 1, max: 9},
		{from: "422", digits: 3},
		{from: "423", rest: numbers, min: 1, max: 15},
		{from: "424", digits: 3},
		{from: "425", rest: numbers, min: 1, max: 15},
		{from: "426", digits: 3},
		{from: "427", rest: signs, min: 1, max: 3},
		{from: "4300", to: "4301", rest: signs, min: 1, max: 35},
		{from: "4302", to: "4306", rest: signs, min: 1, max: 70},
		{from: "4307", rest: signs, min: 2, max: 2},
		{from: "4308", rest: signs, min: 1, max: 30},
		{from: "4309", digits: 20},
		{from: "4310", to: "4311", rest: signs, min: 1, max: 35},
		{from: "4312", to: "4316", rest: signs, min: 1, max: 70},
		{from: "4317", rest: signs, min: 2, max: 2},
		{from: "4318", rest: signs, min: 1, max: 20},
		{from: "4319", rest: signs, min: 1, max: 30},
		{from: "4320", rest: signs, min: 1, max: 35},
		{from: "4321", to: "4323", digits: 1},
		{from: "4324", to: "4325", digits: 10, dated: true},
		{from: "4326", digits: 6, dated: true},
		{from: "4330", to: "4333", digits: 6, rest: signs, max: 1},
		{from: "7001", digits: 13},
		{from: "7002", rest: signs, min: 1, max: 30},
		{from: "7003", digits: 10, dated: true, cut: true},
		{from: "7004", rest: numbers, min: 1, max: 4},
		{from: "7005", rest: signs, min: 1, max: 12},
		{from: "7006", digits: 6, dated: true},
		{from: "7007", digits: 6, rest: numbers, max: 6, dated: true},
		{from: "7008", rest: signs, min: 1, max: 3},
		{from: "7009", rest: signs, min: 1, max: 10},
		{from: "7010", rest: signs, min: 1, max: 2},
		{from: "7011", digits: 6, rest: numbers, max: 4, dated: true},
		{from: "7020", to: "7022", rest: signs, min: 1, max: 20},
		{from: "7023", rest: signs, min: 1, max: 30},
		{from: "7030", to: "7039", digits: 3, rest: signs, min: 1, max: 27},
		{from: "7040", digits: 1, rest: signs, min: 3, max: 3},
		{from: "710", to: "717", rest: signs, min: 1, max: 20},
		{from: "7230", to: "7239", rest: signs, min: 3, max: 30},
		{from: "7240", rest: signs, min: 1, max: 20},
		{from: "7241", digits: 2},
		{from: "7242", rest: signs, min: 1, max: 25},
		{from: "8001", digits: 14},
		{from: "8002", rest: signs, min: 1, max: 20},
		{from: "8003", digits: 14, rest: signs, max: 16},
		{from: "8004", rest: signs, min: 1, max: 30},
		{from: "8005", digits: 6},
		{from: "8006", digits: 18},
		{from: "8007", rest: signs, min: 1, max: 34},
		{from: "8008", digits: 8, rest: numbers, max: 4, dated: true},
		{from: "8009", rest: signs, min: 1, max: 50},
		{from: "8010", rest: signs, min: 1, max: 30},
		{from: "8011", rest: numbers, min: 1, max: 12},
		{from: "8012", rest: signs, min: 1, max: 20},
		{from: "8013", rest: signs, min: 1, max: 25},
		{from: "8017", to: "8018", digits: 18, sum: true},
		{from: "8019", rest: numbers, min: 1, max: 10},
		{from: "8020", rest: signs, min: 1, max: 25},
		{from: "8026", digits: 18},
		{from: "8030", rest: signs, min: 1, max: 90},
		{from: "8110", rest: signs, min: 1, max: 70},
		{from: "8111", digits: 4},
		{from: "8112", rest: signs, min: 1, max: 70},
		{from: "8200", rest: signs, min: 1, max: 70},
		{from: "90", rest: signs, min: 1, max: 30},
		{from: "91", to: "99", rest: signs, min: 1, max: 90},
	}
}

// identifier is the identifier at the beginning of a text, and what may follow it.
func identifier(text string) (string, spec, bool) {
	for _, s := range specs() {
		n := len(s.from)
		if len(text) < n {
			continue
		}
		ai := text[:n]
		if ai == s.from || s.to != "" && ai >= s.from && ai <= s.to && allDigits(ai) {
			return ai, s, true
		}
	}
	return "", spec{}, false
}

// Parted stands for the separator where a text may hold no control signs.
const Parted = "|"

// set82 are the signs that a value may have beside letters and digits.
const set82 = `!"%&'()*+,-./:;<=>?_`

// inSet82 says that a sign may stand in a value; every other one is a separator.
func inSet82(r rune) bool {
	return r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || strings.ContainsRune(set82, r)
}

func allDigits(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }
