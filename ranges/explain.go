package ranges

import (
	"strconv"
	"strings"
)

// Brief is the row in one line without sources: "usual 28-44 /min; recheck from 49; tell the vet from 60 or under 24".
func (r Row) Brief() string {
	return r.line(func(Limit, string) string { return "" })
}

// Explain is Brief with the source code and evidence behind each part; consecutive parts that share them give them
// once, behind the last.
func (r Row) Explain() string {
	return r.line(func(l Limit, side string) string {
		s := l.On(side)
		if s.Source == "MEMORY" {
			return "(" + s.Evidence.String() + ")"
		}
		return "(" + s.Source + ", " + s.Evidence.String() + ")"
	})
}

// Backing is one limit of a row in words, "recheck from 49", with the code of its source and its evidence.
type Backing struct {
	Text, Source string
	Evidence     Evidence
}

// Backings lists the limits of the row with what stands behind each; two sides of one limit with the same source are one.
func (r Row) Backings() []Backing {
	var out []Backing
	for _, c := range []struct {
		word string
		l    Limit
		side map[string]string
	}{
		{LevelUsual.String(), r.Usual, map[string]string{SideLow: "from", SideHigh: "to"}},
		{LevelRecheck.String(), r.Recheck, map[string]string{SideLow: "under", SideHigh: "from"}},
		{LevelTell.String(), r.Tell, map[string]string{SideLow: "under", SideHigh: "from"}},
	} {
		first := len(out)
		for _, side := range []string{SideLow, SideHigh} {
			v, ok := c.l.Edge(side)
			if !ok {
				continue
			}
			on, text := c.l.On(side), c.side[side]+" "+number(v, r.Unit)
			if last := len(out) - 1; last >= first && out[last].Source == on.Source && out[last].Evidence == on.Evidence {
				out[last].Text += " or " + text
				continue
			}
			out = append(out, Backing{c.word + " " + text, on.Source, on.Evidence})
		}
	}
	for i := range out {
		out[i].Text = strings.Replace(out[i].Text, " or to ", " to ", 1)
	}
	return out
}

// part is one limit of the line, and its source and evidence.
type part struct{ lead, text, behind string }

func (r Row) line(behind func(l Limit, side string) string) string {
	var parts []part
	usual := func(text, side string) {
		parts = append(parts, part{LevelUsual.String() + " ", text, behind(r.Usual, side)})
	}
	unit := " " + string(r.Unit)
	low, hasLow := r.Usual.Edge(SideLow)
	high, hasHigh := r.Usual.Edge(SideHigh)
	switch lowBehind := behind(r.Usual, SideLow); {
	case hasLow && hasHigh && lowBehind == behind(r.Usual, SideHigh):
		usual(number(low, r.Unit)+"-"+number(high, r.Unit)+unit, SideHigh)
	case hasLow && hasHigh:
		usual("from "+number(low, r.Unit), SideLow)
		parts = append(parts, part{" to ", number(high, r.Unit) + unit, behind(r.Usual, SideHigh)})
	case hasHigh:
		usual("up to "+number(high, r.Unit)+unit, SideHigh)
	case hasLow:
		usual("from "+number(low, r.Unit)+unit, SideLow)
	}
	for _, c := range []struct {
		lead  string
		limit Limit
	}{{"; " + LevelRecheck.String() + " ", r.Recheck}, {"; " + LevelTell.String() + " ", r.Tell}} {
		lead := c.lead
		if v, ok := c.limit.Edge(SideHigh); ok {
			parts = append(parts, part{lead, "from " + number(v, r.Unit), behind(c.limit, SideHigh)})
			lead = " or "
		}
		if v, ok := c.limit.Edge(SideLow); ok {
			parts = append(parts, part{lead, "under " + number(v, r.Unit), behind(c.limit, SideLow)})
		}
	}
	return strings.TrimPrefix(join(parts), "; ")
}

func join(parts []part) string {
	var b strings.Builder
	for i, p := range parts {
		b.WriteString(p.lead)
		b.WriteString(p.text)
		if p.behind != "" && (i+1 == len(parts) || parts[i+1].behind != p.behind) {
			b.WriteString(" " + p.behind)
		}
	}
	return b.String()
}

// number writes a limit in unit u with no more decimals than it has, two at most (a converted temperature), and a
// temperature with at least one, as a thermometer shows it.
func number(v float64, u Unit) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0")
	if !strings.HasSuffix(s, ".") {
		return s
	}
	if u == Celsius || u == Fahrenheit {
		return s + "0"
	}
	return strings.TrimSuffix(s, ".")
}
