package overlay

import "context"

// Verify reads every block of a coverage opened from a file and compares its checksum; an error wraps ErrDamaged. A
// coverage in memory has nothing to verify.
func (c *Coverage) Verify(ctx context.Context) error {
	if c.file == nil {
		return nil
	}
	for i := range c.file.places {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if _, err := c.file.read(uint32(i)); err != nil {
			return err
		}
	}
	return nil
}
