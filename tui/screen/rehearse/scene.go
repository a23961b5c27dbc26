package rehearse

import (
	"math"
	"time"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/theme"
)

// How long things stand on the screen, in seconds.
const (
	shineS = 0.15 // a beat
	moveS  = 6.0  // a movement of the horse
	outS   = 1.2  // the flank stays out, at most
)

// scene is what is to be seen and heard at one moment.
type scene struct {
	beat   float64 // the last one, s; 0 for none
	lit    bool    // it is there now
	thud   bool    // a soft low sound in a pause, which is no beat
	out    bool    // the flank is out
	sounds []rehearse.Sound
	shown  string // the last event
	move   string // what the horse just did
	listen int    // whole seconds since the look began
	total  int    // whole seconds since the opening
	step   int    // the same, at this place
}

// next is the first moment after now at which something changes.
type next struct{ now, at float64 }

func (n *next) add(at float64) {
	if at > n.now && at < n.at {
		n.at = at
	}
}

// wait is how long it is until then; false where nothing will change.
func (n *next) wait() (time.Duration, bool) {
	if math.IsInf(n.at, 1) {
		return 0, false
	}
	// A little later rather than a hair too early, and asked about again.
	return time.Duration((n.at-n.now)*float64(time.Second)) + time.Microsecond, true
}

// take sets the scene of a moment.
func (p *patient) take(now float64) *next {
	n := &next{now: now, at: math.Inf(1)}
	p.scene = scene{beat: p.scene.beat, listen: int(now - p.since), total: int(now), step: int(now - p.since)}
	switch p.seen.Listen {
	case exam.ListenHeart:
		p.takeHeart(now, n)
		p.takeThuds(now, n)
		if p.heard() {
			n.add(p.since + math.Floor(now-p.since) + 1)
		}
	case exam.ListenBreath:
		p.takeBreath(now, n)
	case exam.ListenGut:
		p.takeGut(now, n)
		n.add(p.since + math.Floor(now-p.since) + 1)
	case exam.ListenNone:
	}
	p.takeEvents(now, n)
	p.takeMoves(now, n)
	if p.modes.Timed {
		n.add(math.Floor(now) + 1)
	}
	return n
}

// after is how far ahead the next beat or breath is looked for: none is slower
// than one a minute.
const after = 60

func (p *patient) takeHeart(now float64, n *next) {
	for _, b := range p.horse.Beats(now-after, now+after) {
		n.add(b)
		if b <= now {
			p.scene.beat, p.scene.lit = b, now < b+shineS
			n.add(b + shineS)
		}
	}
}

// thudS is how long a soft sound in a pause stands on the screen.
const thudS = 0.3

func (p *patient) takeThuds(now float64, n *next) {
	for _, at := range p.horse.Thuds(now-1, now+after) {
		n.add(at)
		if at <= now && now < at+thudS {
			p.scene.thud = true
			n.add(at + thudS)
		}
	}
}

func (p *patient) takeBreath(now float64, n *next) {
	list := p.horse.Breaths(now-after, now+after)
	for i, b := range list {
		n.add(b)
		if b > now || i+1 == len(list) {
			continue
		}
		back := b + min(outS, 0.4*(list[i+1]-b))
		p.scene.out = now < back
		n.add(back)
	}
}

// longestS is how long before now a gut sound may have begun that is still heard.
const longestS = 60

func (p *patient) takeGut(now float64, n *next) {
	for _, s := range p.horse.Sounds(p.place.Site, now-longestS, now+after) {
		n.add(s.AtS)
		n.add(s.AtS + s.LengthS)
		if s.AtS <= now && now < s.AtS+s.LengthS {
			p.scene.sounds = append(p.scene.sounds, s)
		}
	}
}

// takeEvents shows the last of the events so far; those of a time step run from
// the letting go.
func (p *patient) takeEvents(now float64, n *next) {
	from := p.since
	if step, _ := p.deps.Steps.ByID(p.place.Step); step.Kind == exam.KindTime {
		if !p.watch.shown {
			return
		}
		from = p.watch.began
	}
	for _, e := range p.seen.Events {
		if n.add(from + e.AfterS); from+e.AfterS <= now {
			p.scene.shown = e.Words
		}
	}
}

func (p *patient) takeMoves(now float64, n *next) {
	if now < p.praised.until {
		p.scene.move = p.praised.words
		n.add(p.praised.until)
	}
	for _, m := range p.horse.Moves(now-moveS, now+600) {
		n.add(m.AtS)
		if m.AtS <= now && now < m.AtS+moveS {
			p.scene.move = theme.Caution + " " + m.Words
			n.add(m.AtS + moveS)
		}
	}
}
