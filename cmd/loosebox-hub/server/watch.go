package server

import (
	"context"
	"fmt"
	"os"
	"time"
)

// How often the hub checks its practice's file, and its size.
const (
	fileEvery = 2 * time.Second
	sizeEvery = time.Minute
	fullAt    = 80 // percent: from here on it warns
)

// look reads the practice's file again when it changed, and warns before the hub is full.
func (s *Server) look(ctx context.Context) {
	defer s.done.Done()
	file, size := time.NewTicker(fileEvery), time.NewTicker(sizeEvery)
	defer file.Stop()
	defer size.Stop()
	changed, told := s.changed(), 0
	told = s.warn(ctx, told)
	for {
		select {
		case <-ctx.Done():
			return
		case <-file.C:
			s.seeGuestsOff()
			now := s.changed()
			if now.IsZero() || now.Equal(changed) {
				continue
			}
			changed = now
			if n, err := s.practice.read(); err != nil {
				s.o.Say(err.Error())
			} else if n > 0 {
				s.sayWho()
			}
		case <-size.C:
			told = s.warn(ctx, told)
		}
	}
}

// changed is when the practice's file was last changed; zero where there is none.
func (s *Server) changed() (at time.Time) {
	if info, err := os.Stat(s.o.Practice); err == nil {
		at = info.ModTime()
	}
	return at
}

// warn reports how full the hub is, once for each percent above the limit.
func (s *Server) warn(ctx context.Context, told int) int {
	used, most, err := s.Size(ctx)
	if err != nil || most <= 0 {
		return told
	}
	percent := int(used * 100 / most)
	if percent >= fullAt && percent != told {
		s.o.Say(fmt.Sprintf("the hub is %d %% full (%d of %d MB). Start it again with a larger --max-gb",
			percent, used>>20, most>>20))
	}
	return percent
}
