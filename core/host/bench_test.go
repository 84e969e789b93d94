package host_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/hostile"
)

// eight are plugins that start and answer as they should.
var eight = []string{
	hostile.Good, hostile.Refuses, hostile.Panics, hostile.Hangs,
	hostile.NaN, hostile.Crossing, hostile.UnknownName, hostile.LostLineage,
}

// BenchmarkStart is from nothing to eight described plugins, and to none again.
func BenchmarkStart(b *testing.B) {
	found := candidates(b, eight...)
	b.Run("start", func(b *testing.B) {
		for range b.N {
			s, err := host.Start(context.Background(), found, host.Options{})
			if err != nil {
				b.Fatal(err)
			}
			b.StopTimer()
			s.Close()
			b.StartTimer()
		}
	})
	b.Run("close", func(b *testing.B) {
		for range b.N {
			b.StopTimer()
			s, err := host.Start(context.Background(), found, host.Options{})
			if err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
			s.Close()
		}
	})
}

// BenchmarkCall is one warm call with a pattern of so many curves.
func BenchmarkCall(b *testing.B) {
	s := start(b, host.Options{}, hostile.Good)
	for _, curves := range []int{10, 100, 1000} {
		p := &pattern.Pattern{Name: "many"}
		for i := range 10 {
			piece := square(fmt.Sprintf("p%d", i))
			var path geom.Path
			at := geom.Pt(100, 0)
			for j := range curves / 10 {
				next := geom.Pt(100+10*math.Sin(float64(j)), 100*float64(j+1)/float64(curves/10))
				path = append(path, geom.Cubic(at, at, next, next))
				at = next
			}
			piece.Edges[1].Path = path
			p.Pieces = append(p.Pieces, piece)
		}
		b.Run(fmt.Sprintf("%dcurves", curves), func(b *testing.B) {
			for range b.N {
				if _, err := s.Apply(context.Background(), hostile.Good, hostile.Operation, &operation.Request{Pattern: p}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
