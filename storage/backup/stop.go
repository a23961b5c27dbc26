package backup

import (
	"context"
	"io"

	"loosebox/exam/progress"
)

// stretch is a long read or write: it fails once the context ended, and tells who listens to it how far it is.
type stretch struct {
	ctx       context.Context //nolint:containedctx // one call's
	done, all int             // bytes: done so far, and of the record or the file that holds it
}

// part does one read or write of it.
func (s *stretch) part(do func([]byte) (int, error), p []byte) (int, error) {
	if s.ctx.Err() != nil {
		return 0, context.Cause(s.ctx)
	}
	n, err := do(p)
	s.done += n
	progress.Say(s.ctx, "bytes", min(s.done, s.all), s.all)
	return n, err
}

// stoppableReader is a reader of a stretch.
type stoppableReader struct {
	stretch
	src io.Reader
}

func (s *stoppableReader) Read(p []byte) (int, error) { return s.part(s.src.Read, p) }

// stoppableWriter is a writer of a stretch.
type stoppableWriter struct {
	stretch
	dst io.Writer
}

func (s *stoppableWriter) Write(p []byte) (int, error) { return s.part(s.dst.Write, p) }
