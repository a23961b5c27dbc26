package main

import (
	"context"
	"errors"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/storage/share"
	"loosebox/storage/share/hub"
	"loosebox/tui/nav"
)

// shareEvery is how often the folder is looked at.
const shareEvery = 30 * time.Second

// begin starts the background; send gets what the screens are told.
func (s *sharer) begin(send func(tea.Msg)) {
	ctx, stop := context.WithCancel(s.env.context())
	s.ctx, s.stop, s.send = ctx, stop, send
	s.wake, s.done = make(chan struct{}, 1), make(chan struct{})
	go func() {
		defer close(s.done)
		tick := time.NewTicker(shareEvery)
		defer tick.Stop()
		for {
			if msg, ok := s.inBackground(ctx); ok {
				send(msg)
			}
			select {
			case <-tick.C:
			case <-s.wake:
			case <-ctx.Done():
				return
			}
		}
	}()
}

// kick asks for an exchange now; it does nothing before begin.
func (s *sharer) kick() {
	if s.wake == nil {
		return
	}
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// end stops the background; what is half done goes on the next time.
func (s *sharer) end() {
	if s.stop == nil {
		s.leave()
		return
	}
	s.stop()
	over := make(chan struct{})
	go func() {
		<-s.done
		s.mu.Lock() // what a person asked for is over too
		s.leave()
		s.mu.Unlock()
		close(over)
	}()
	select {
	case <-over:
	case <-time.After(shareWait): // a folder that does not answer: the next run goes on
	}
}

// inBackground exchanges with the folder and the hub that are named; false where none is.
// The folder counts only where it was shared through before: the place of a stick is no
// stick. A hub that is away is no problem.
func (s *sharer) inBackground(ctx context.Context) (nav.SharedMsg, bool) {
	set, err := s.record.Settings()
	if err != nil {
		return nav.SharedMsg{}, false
	}
	at, hasHub, err := hubOf(s.record)
	if err != nil || set.ShareFolder == "" && !hasHub {
		return nav.SharedMsg{}, false
	}
	msg := nav.SharedMsg{}
	if set.ShareFolder != "" && share.New(set.ShareFolder).There() {
		done, folderErr := s.exchange(ctx, set.ShareFolder, true)
		msg.Came, err = done.Came, errors.Join(err, folderErr, done.Unwritten)
	}
	if hasHub {
		done, hubErr := s.meet(ctx, at, true)
		if err == nil || hubErr == nil || err.Error() != hubErr.Error() { // what is true of both is said once
			err = errors.Join(err, hubErr)
		}
		msg.Came, err = msg.Came+done.Came, errors.Join(err, done.Unwritten)
	}
	stands, lastErr := sharedNow(s.record)
	msg.At, msg.Waiting, msg.Out = stands.At, stands.Waiting, stands.Out
	if err = errors.Join(err, lastErr); err != nil && ctx.Err() == nil && !errors.Is(err, share.ErrNoFolder) && !errors.Is(err, hub.ErrAway) {
		msg.Problem = s.once(inWords(err))
	}
	return msg, true
}

// once is a text the first time, and empty as long as it stays the same.
func (s *sharer) once(text string) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.said == text {
		return ""
	}
	s.said = text
	return text
}

// shareWait is how long the end of the program waits for an exchange to stop.
const shareWait = 5 * time.Second
