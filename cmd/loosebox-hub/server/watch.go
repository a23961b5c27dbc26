package server

import (
	"context"
	"fmt"
	"time"
)

// How often the hub checks its practice's file, and its size.
const (
	fileEvery = 2 * time.Second
	sizeEvery = time.Minute
	fullAt    = 80 // percent: from here on it warns
)

// look reads the practice's file again, and warns before the hub is full.
func (s *Server) look(ctx context.Context) {
	defer s.done.Done()
	file, size := time.NewTicker(fileEvery), time.NewTicker(sizeEvery)
	defer file.Stop()
	defer size.Stop()
	told := s.warn(ctx, 0)
	var failed failure
	for {
		select {
		case <-ctx.Done():
			return
		case <-file.C:
			s.seeGuestsOff()
			n, err := s.practice.readAgain()
			if failed.again(err) {
				s.o.Say(err.Error())
			}
			if n > 0 {
				s.sayWho()
			}
		case <-size.C:
			told = s.warn(ctx, told)
		}
	}
}

// failure is an error that comes back at each look.
type failure struct {
	text  string
	times int
}

// again reports whether the error came for the second time in a row: a file that is being written may be half there once,
// and what lasts is said once.
func (f *failure) again(err error) bool {
	text := ""
	if err != nil {
		text = err.Error()
	}
	if text != f.text {
		*f = failure{text: text}
	}
	f.times++
	return text != "" && f.times == 2
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
