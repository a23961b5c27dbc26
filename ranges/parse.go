package ranges

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"loosebox/ranges/csvfile"
)

// columns of a ranges file, in order.
func columns() []string {
	return []string{
		"measure", "class", "unit",
		"usual_low", "usual_high", "usual_source", "usual_evidence",
		"recheck_low", "recheck_high", "recheck_source", "recheck_evidence",
		"tell_low", "tell_high", "tell_source", "tell_evidence",
		"words",
	}
}

// parser turns the lines of one file into rows.
type parser struct {
	origin  RowOrigin
	sources map[string]Source
	bad     *csvfile.FileError
	seen    map[key]int
}

func (p *parser) rows(records []csvfile.Line) []Row {
	p.seen = make(map[key]int, len(records))
	rows := make([]Row, 0, len(records))
	for _, rec := range records {
		row, err := p.row(rec)
		if err == nil {
			err = p.once(row)
		}
		if err != nil {
			p.bad.Add(rec.Number, "%s", err)
			continue
		}
		rows = append(rows, row)
	}
	p.pairs(rows)
	return rows
}

func (p *parser) row(rec csvfile.Line) (Row, error) {
	c := rec.Cells
	r := Row{
		Measure: Measure(c[0]), Class: Class(c[1]), Unit: Unit(c[2]),
		Words: c[15], Origin: p.origin, File: p.bad.File, Line: rec.Number,
	}
	if !r.Measure.Valid() {
		return r, fmt.Errorf("measure %s is not known; it may be one of %s", csvfile.Quoted(c[0]), list(Measures()))
	}
	if !r.Class.Valid() {
		return r, fmt.Errorf("class %s is not known%s; the classes are in the list of ranges", csvfile.Quoted(c[1]), meant(c[1]))
	}
	if !slices.Contains(r.Measure.Units(), r.Unit) {
		return r, fmt.Errorf("unit %s does not fit %s; it may be %s", csvfile.Quoted(c[2]), r.Measure, list(r.Measure.Units()))
	}
	names := [3]string{"usual", "recheck", "tell"}
	for i, l := range r.limits() {
		if err := p.limit(l, r.Unit, c[3+4*i:7+4*i]); err != nil {
			return r, fmt.Errorf("%s: %w", names[i], err)
		}
	}
	if r.Usual.Empty() && (p.origin == OriginPractice || r.Recheck.Empty() && r.Tell.Empty()) {
		return r, fmt.Errorf("usual: neither a low nor a high value is given")
	}
	return r, r.order()
}

// limit fills l from its four cells: low, high, source, evidence.
func (p *parser) limit(l *Limit, u Unit, cells []string) error {
	var err error
	if l.Low, err = edge(cells[0], u); err != nil {
		return err
	}
	if l.High, err = edge(cells[1], u); err != nil {
		return err
	}
	if l.Empty() {
		if p.origin == OriginBuiltIn && (cells[2] != "" || cells[3] != "") {
			return fmt.Errorf("a source or evidence without a limit")
		}
		return nil
	}
	lowSource, source, err := sides(cells[2], l)
	if err != nil {
		return fmt.Errorf("source: %w", err)
	}
	if source == "" || lowSource == "" {
		return fmt.Errorf("a limit without a source")
	}
	lowEvidence, evidence, err := sides(cells[3], l)
	if err != nil {
		return fmt.Errorf("evidence: %w", err)
	}
	l.Source, l.Evidence = source, Evidence(evidence)
	if source != lowSource {
		l.LowSource = lowSource
	}
	if evidence != lowEvidence {
		l.LowEvidence = Evidence(lowEvidence)
	}
	return p.checkBehind(l)
}

// checkBehind checks the source and evidence of a built-in limit; the evidence of a practice's limit becomes PracticeOwn.
func (p *parser) checkBehind(l *Limit) error {
	for _, side := range []string{SideLow, SideHigh} {
		s := l.On(side)
		if !slices.Contains(Tiers(), s.Evidence) && (p.origin == OriginBuiltIn || s.Evidence != "" && s.Evidence != PracticeOwn) {
			return fmt.Errorf("evidence %s is not known; it may be %s or %s", csvfile.Quoted(string(s.Evidence)), list(Tiers()), string(PracticeOwn))
		}
		if p.origin == OriginBuiltIn {
			src, ok := p.sources[s.Source]
			if !ok {
				return fmt.Errorf("source %s is not in sources.csv", csvfile.Quoted(s.Source))
			}
			if !src.Tier.Carries(s.Evidence) {
				return fmt.Errorf("a source of the tier %q does not carry %q", string(src.Tier), string(s.Evidence))
			}
		}
	}
	if p.origin == OriginPractice {
		l.Evidence, l.LowEvidence = PracticeOwn, ""
	}
	return nil
}

// sides splits a source or evidence cell "A|B" into that of the low edge and that of the high one; "A" is for both.
func sides(cell string, l *Limit) (low, high string, err error) {
	low, high, two := strings.Cut(cell, "|")
	if !two {
		return cell, cell, nil
	}
	if l.Low == nil || l.High == nil {
		return "", "", fmt.Errorf("%s names two sides, but there is only one limit", csvfile.Quoted(cell))
	}
	return strings.TrimSpace(low), strings.TrimSpace(high), nil
}

// edge reads one number, nil for an empty cell.
func edge(cell string, u Unit) (*float64, error) {
	if cell == "" {
		return nil, nil
	}
	whole, tenth, point := strings.Cut(cell, ".")
	if strings.Contains(cell, ",") {
		return nil, fmt.Errorf("%s: write a decimal point, not a comma", csvfile.Quoted(cell))
	}
	if !digits(whole) || len(whole) > 3 || point && !digits(tenth) {
		return nil, fmt.Errorf("%s is not a number from 0 to 999", csvfile.Quoted(cell))
	}
	if len(tenth) > 1 {
		return nil, fmt.Errorf("%s has more than one decimal; limits are held to 0.1", csvfile.Quoted(cell))
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return nil, fmt.Errorf("%s is not a number", csvfile.Quoted(cell))
	}
	if low, high := u.span(); v < low || v > high {
		return nil, fmt.Errorf("%s cannot be right in %s; is the unit another one?", cell, u)
	}
	return &v, nil
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

func list[T ~string](all []T) string {
	s := make([]string, len(all))
	for i, v := range all {
		s[i] = string(v)
	}
	return strings.Join(s, ", ")
}

// meant lists the classes to suggest for an unknown one: those that begin like it or contain it.
func meant(class string) string {
	typed := strings.ToLower(strings.TrimSpace(class))
	if len(typed) < 3 {
		return ""
	}
	var like []string
	for _, c := range Classes() {
		if strings.Contains(string(c), typed) || strings.HasPrefix(string(c), typed[:3]) {
			like = append(like, strconv.Quote(string(c)))
		}
	}
	if len(like) == 0 || len(like) > 7 {
		return ""
	}
	return " (" + strings.Join(like, " or ") + "?)"
}
