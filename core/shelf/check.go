package shelf

import (
	"context"
	"path/filepath"
	"runtime"
	"sync"
)

// Options say how a shelf is checked. The zero value checks by the house's
// tolerances, with as many workers as there are cores.
type Options struct {
	Inspector
	Rules   *InForce // nil: the house's tolerances, or those in Pairing, and no exceptions
	Shard   *Shard   // which part of the shelf this is; nil: all of it
	Base    string   // the folder that paths are from, as seen from the top of the repository; empty for the top
	Program string   // stands for the program and its plugins in the result of a shard
	Workers int      // 0: as many as may run at once
	// Each is called with every file as it is ready, in the order of the list,
	// from one goroutine at a time; its error ends the check.
	Each func(c *Checked) error
	// Progress is called after every file, in no order, from one goroutine at a
	// time.
	Progress func(done, total int)
}

// Check checks the files of a shelf. The result does not depend on the number
// of workers. Of the text of a file no more is in memory than workers have in
// hand, and of a file in which nothing was found a few words are kept.
func Check(ctx context.Context, found Found, o Options) (*Result, error) {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	workers := o.Workers
	if workers < 1 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = min(workers, max(1, len(found.Files)))
	o.texts = found.texts
	if o.Rules != nil {
		o.Pairing.Tolerances = &o.Rules.Tolerances
		found = found.Without(o.Rules.Path)
	}
	result := &Result{Base: o.Base, Shard: o.Shard, Settings: o.settings(o.Rules)}
	if o.Shard != nil {
		result.Of, result.Program = o.whole(found), o.Program
		found = o.Shard.Of(found)
	}
	result.Passed = found.Passed
	line := &line{
		total: len(found.Files), waiting: map[int]outcome{}, each: o.Each, progress: o.Progress, exceptions: newExceptions(o.Rules),
		result: result,
	}
	next := make(chan int)
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for i := range next {
				c, passed, err := o.Inspect(ctx, found.Files[i])
				if ctx.Err() != nil {
					continue // what was broken off is not a result
				}
				if err != nil {
					stop(err)
					continue
				}
				if err := line.put(i, outcome{c, passed}); err != nil {
					stop(err)
				}
			}
		})
	}
feed:
	for i := range found.Files {
		select {
		case next <- i:
		case <-ctx.Done():
			break feed
		}
	}
	close(next)
	wg.Wait()
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	if err := o.ruled(line); err != nil {
		return nil, err
	}
	return line.result, nil
}

// ruled adds the file of the rules to the result, with what is to be told of
// it.
func (o *Options) ruled(l *line) error {
	if o.Rules == nil {
		return nil
	}
	mine := func(path string) bool { return o.Shard == nil || o.Shard.Has(path) }
	c := &Checked{Path: filepath.ToSlash(o.Rules.Path), Kind: Rules, Findings: l.exceptions.expired(mine)}
	l.result.Files = append(l.result.Files, *c)
	l.result.sort()
	if o.Each != nil {
		return o.Each(c)
	}
	return nil
}

// outcome is what came of one file: a result, or that it was passed over.
type outcome struct {
	checked *Checked
	passed  Passed
}

// line puts what workers finish into the order of the list.
type line struct {
	mu       sync.Mutex
	at       int // the next to be put into the result
	done     int
	total    int
	waiting  map[int]outcome
	each     func(*Checked) error
	progress func(done, total int)
	result   *Result
	failed   error

	exceptions *exceptions
}

func (l *line) put(i int, o outcome) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.waiting[i] = o
	l.done++
	if l.progress != nil {
		l.progress(l.done, l.total)
	}
	for l.failed == nil {
		o, ok := l.waiting[l.at]
		if !ok {
			break
		}
		delete(l.waiting, l.at)
		l.at++
		l.result.Passed.add(o.passed)
		if o.checked == nil {
			continue
		}
		l.exceptions.apply(o.checked)
		l.result.Files = append(l.result.Files, *o.checked)
		if l.each != nil {
			l.failed = l.each(o.checked)
		}
	}
	return l.failed
}

func (p *Passed) add(q Passed) {
	p.Links += q.Links
	p.Odd += q.Odd
	p.Empty += q.Empty
	p.Others += q.Others
}
