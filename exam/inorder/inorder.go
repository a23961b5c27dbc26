// Package inorder does pieces of work on all cores and hands over the results in the order in which
// the pieces came in.
package inorder

import "runtime"

// Pool is workers that are running. Put, End and the function that takes the results run in one
// goroutine, so that they may use its data without a lock.
type Pool[In, Out any] struct {
	take    func(Out) error
	jobs    chan job[In, Out]
	pending []chan result[Out]
}

type job[In, Out any] struct {
	in  In
	out chan result[Out]
}

type result[Out any] struct {
	out Out
	err error
}

// Begin starts as many workers as there are functions; each is called by one worker.
// Whoever begins calls End.
func Begin[In, Out any](work []func(In) (Out, error), take func(Out) error) *Pool[In, Out] {
	l := &Pool[In, Out]{take: take, jobs: make(chan job[In, Out])}
	for _, do := range work {
		go func() {
			for j := range l.jobs {
				var r result[Out]
				r.out, r.err = do(j.in)
				j.out <- r
			}
		}()
	}
	return l
}

// OnAll is Begin with one function for all cores.
func OnAll[In, Out any](do func(In) (Out, error), take func(Out) error) *Pool[In, Out] {
	work := make([]func(In) (Out, error), runtime.GOMAXPROCS(0))
	for i := range work {
		work[i] = do
	}
	return Begin(work, take)
}

// Put hands one piece in; it may take the results of earlier ones. After an error only End
// is called.
func (l *Pool[In, Out]) Put(in In) error {
	for len(l.pending) >= 4*runtime.GOMAXPROCS(0) {
		if err := l.takeFirst(); err != nil {
			return err
		}
	}
	j := job[In, Out]{in, make(chan result[Out], 1)}
	l.pending = append(l.pending, j.out)
	l.jobs <- j
	return nil
}

func (l *Pool[In, Out]) takeFirst() error {
	r := <-l.pending[0]
	l.pending = l.pending[1:]
	if r.err != nil {
		return r.err
	}
	return l.take(r.out)
}

// End takes what is left and lets the workers go; err is why no more was put in, and then
// nothing is taken any more.
func (l *Pool[In, Out]) End(err error) error {
	close(l.jobs)
	for len(l.pending) > 0 {
		if err == nil {
			err = l.takeFirst()
		} else {
			<-l.pending[0] // no worker is left behind at work
			l.pending = l.pending[1:]
		}
	}
	return err
}
