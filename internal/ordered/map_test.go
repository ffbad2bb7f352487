package ordered

import (
	"context"
	"errors"
	"testing"
)

// More workers than items too.
func TestMapKeepsOrderWhateverTheWorkers(t *testing.T) {
	for _, workers := range []int{0, 1, 8, 2000} {
		got, err := Map(context.Background(), 1000, workers, func(i int) (int, error) { return i * i, nil })
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range got {
			if v != i*i {
				t.Fatalf("%d workers: got[%d] = %d, want %d", workers, i, v, i*i)
			}
		}
	}
}

func TestMapStopsOnErrorAndCancel(t *testing.T) {
	boom := errors.New("boom")
	if _, err := Map(context.Background(), 10, 1, func(i int) (int, error) { return 0, boom }); !errors.Is(err, boom) {
		t.Errorf("err = %v, want boom", err)
	}
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(boom)
	if _, err := Map(ctx, 10, 1, func(i int) (int, error) { return 0, nil }); !errors.Is(err, boom) {
		t.Errorf("err = %v, want the cause of the cancellation", err)
	}
}
