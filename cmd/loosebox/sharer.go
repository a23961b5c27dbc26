package main

import (
	"context"
	"maps"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/storage/share"
	"loosebox/storage/share/hub"
	"loosebox/tui/nav"
)

// sharer exchanges with the folder of the settings, and with the hub of the practice,
// beside everything else: at the start of the screens, after each closed visit, each half
// minute, and when the hub says that another laptop sent something. No key and no answer
// waits for it. A segment is a transaction, with room between. What an open visit adds goes
// out every five minutes, a closed visit at once: a file for each half minute of an exam
// would fill a stick with names.
type sharer struct {
	env    *env
	record *storage.Record
	ctx    context.Context //nolint:containedctx // of the screens; their end ends an exchange
	stop   context.CancelFunc
	send   func(tea.Msg) // to the screens
	wake   chan struct{}
	done   chan struct{}

	// askAt is the hub at which this laptop asked to come in; nil for none. It is beside mu, as
	// the page is shown while an exchange goes on.
	askAt atomic.Pointer[string]

	mu     sync.Mutex
	folder *share.Folder // of dir, with what is known of it
	dir    string
	said   string    // the problem that was told last
	whole  time.Time // when the lines of an open visit went out last
	hubs
}

// hubs is the connection to a hub, from exchange to exchange.
type hubs struct {
	hub      *hub.Connection // of named, with its connection
	named    roster.Hub
	hubWhole time.Time // when the lines of an open visit went there last
}

// sharing makes the sharer of a record; it does nothing until begin.
func (e *env) sharing(r *storage.Record) *sharer { return &sharer{env: e, record: r} }

// leave ends the connection to the hub.
func (s *sharer) leave() {
	if s.hub != nil {
		s.hub.Close()
	}
	s.hub = nil
}

// exchange shares once by a folder; in the background it leaves the record to others
// between, and remembers only what changed.
func (s *sharer) exchange(ctx context.Context, dir string, background bool) (share.Result, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.folder == nil || s.dir != dir || !background { // a person who asks has every file read again
		s.folder, s.dir = share.New(dir), dir
	}
	now := s.env.now()
	s.folder.Later = background && now.Sub(s.whole).Abs() < wholeEvery
	if !s.folder.Later {
		s.whole = now
	}
	var r share.Record = s.record
	if background {
		r = share.Gently(r, s.env.now)
	}
	done, err := s.folder.Exchange(ctx, r)
	s.came(done)
	if err != nil {
		return done, err
	}
	return done, s.remember(dir, done, background)
}

// meet shares once by the hub.
func (s *sharer) meet(ctx context.Context, at roster.Hub, background bool) (share.Result, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.reach(at); err != nil {
		return share.Result{}, err
	}
	now := s.env.now()
	s.hub.Gently, s.hub.Later = background, background && now.Sub(s.hubWhole).Abs() < wholeEvery
	if !s.hub.Later {
		s.hubWhole = now
	}
	done, err := s.hub.Exchange(ctx, s.record)
	s.came(done)
	if err != nil {
		return done, err
	}
	return done, s.remember(hubPlace(at), done, background)
}

// reach makes the hub that is named the one that is spoken to; mu is held.
func (s *sharer) reach(at roster.Hub) error {
	if s.hub != nil && s.named == at {
		return nil
	}
	s.leave()
	h, err := hub.New(at, s.env.now, s.kick)
	if err == nil {
		s.hub, s.named = h, at
	}
	return err
}

// came tells the screens of settings that came in, and writes the practice's own files.
func (s *sharer) came(done share.Result) {
	if done.In.Settings == 0 {
		return
	}
	text := s.env.cameOwn(s.record)
	if s.send == nil {
		if text != "" {
			s.env.problem("%s", text)
		}
		return
	}
	if set, err := s.record.Settings(); err == nil {
		s.send(nav.SettingsMsg{Settings: set})
	}
	if text != "" {
		s.send(nav.SaidMsg{Text: text})
	}
}

// remember notes an exchange; in the background only what changed.
func (s *sharer) remember(place string, done share.Result, background bool) error {
	list, err := s.record.Exchanges(place)
	if err != nil {
		return err
	}
	last := list[0]
	age := s.env.now().Sub(last.At) // below zero where the clock was wrong then
	aside := done.In.Aside[:min(len(done.In.Aside), maxAside)]
	moved := done.Came > 0 || done.Files > 0 || last.Waiting != done.Waiting || last.Sealed != done.Sealed || !maps.Equal(last.Unknown, done.Unknown) || len(aside) > 0 && !slices.Equal(last.Aside, aside)
	if background && !moved && age >= 0 && age < noteEvery {
		return nil // nothing to remember: no line is written each half minute
	}
	return s.record.NoteExchange(storage.Exchanged{At: s.env.now(), Place: place, Waiting: done.Waiting, Unknown: done.Unknown, Sealed: done.Sealed, Aside: aside})
}

// maxAside is how many sentences about parts that do not fit are remembered.
const maxAside = 20

// wholeEvery is how often the lines of an open visit go out; those of a closed one go at once.
const wholeEvery = 5 * time.Minute

// noteEvery is how old the time of the last exchange may be.
const noteEvery = 5 * time.Minute
