package choice

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // for the script
	"encoding/base64"
	"fmt"
	"io"

	"rootworthy/export/report"
)

// sortScript makes the heads of tables sort them. The page is whole without it.
//
//go:embed sort.js
var sortScript string

// sortStyle is the look of a head that sorts. In print it is text alone: Chromium leaves buttons out of heads that it repeats on further pages.
const sortStyle = `
.sort{font:inherit;color:inherit;background:none;border:0;padding:.25rem 0;min-height:44px;min-width:24px;text-align:inherit;text-decoration:underline;cursor:pointer}
[aria-sort=ascending] .sort::after{content:" ▲"}
[aria-sort=descending] .sort::after{content:" ▼"}
@media print{.sort{display:contents}}
`

// WritePage writes a document as a page whose tables can be sorted. Its policy lets this one script run, these styles
// apply, and nothing be fetched.
func WritePage(w io.Writer, d *report.Document) error {
	var b bytes.Buffer
	if err := d.HTML(&b); err != nil {
		return err
	}
	const charset, open, end = "<meta charset=\"utf-8\">\n", "<style>", "</style>"
	page := b.Bytes()
	// The page of the report has no script; one is put into it rather than into all pages, which stay free of scripts.
	from, to := bytes.Index(page, []byte(open)), bytes.Index(page, []byte(end))
	if from < 0 || to < 0 || !bytes.Contains(page, []byte(charset)) || !bytes.HasSuffix(page, []byte("</body>\n</html>\n")) {
		return fmt.Errorf("the page has no place for its script") // a fault of the program, which every test of the page finds
	}
	// Hashed as it stands in the page, to the byte, since that is what a browser hashes.
	own := page[from+len(open) : to]
	policy := fmt.Sprintf("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src %s %s; script-src %s; base-uri 'none'; form-action 'none'\">\n",
		hash(own), hash([]byte(sortStyle)), hash([]byte(sortScript)))
	// The policy comes before anything that it judges.
	page = bytes.Replace(page, []byte(charset), []byte(charset+policy), 1)
	page = bytes.Replace(page, []byte(end), []byte(end+"\n<style>"+sortStyle+end), 1)
	page = append(bytes.TrimSuffix(page, []byte("</body>\n</html>\n")), "<script>"+sortScript+"</script>\n</body>\n</html>\n"...)
	_, err := w.Write(page)
	return err
}

// hash names a script or a style to a content security policy.
func hash(b []byte) string {
	sum := sha256.Sum256(b)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
