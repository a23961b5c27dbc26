// Package progress reports how far a long piece of work is, through its context: whoever does the
// work calls Say, whoever shows it passes a Func with With.
package progress

import "context"

// Func is told that so many of all are done of what is named, a noun in the plural such as "lines". It is called often, one
// call at a time, by a goroutine that does the work.
type Func func(what string, done, all int)

type key struct{}

// With is a context whose work tells f how far it is.
func With(ctx context.Context, f Func) context.Context { return context.WithValue(ctx, key{}, f) }

// Say reports progress to the Func of the context; it does nothing where there is none.
func Say(ctx context.Context, what string, done, all int) {
	if f, ok := ctx.Value(key{}).(Func); ok {
		f(what, done, all)
	}
}
