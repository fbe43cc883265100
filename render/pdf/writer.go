package pdf

import (
	"fmt"
	"io"
	"runtime"
	"sync"
	"sync/atomic"

	"stopleaf/layout"
	"stopleaf/render/internal/paper"
)

// Writer writes a document page by page, so that one of ten thousand pages takes
// no more memory than one of ten. Each font and each picture is in the file
// once. The same pages give the same bytes, however many were drawn at once.
//
// Its use is NewWriter, Pages, Close; or Draw and Add in place of Pages.
type Writer struct {
	file     *file
	opt      Options
	pictures pictures
	sources  attachments
	used     [2]glyphSet // of the regular and the bold face
	sheets   []*Sheet    // as they were added, without their contents
	err      error       // the first; nothing is written after it
}

// NewWriter begins a file.
func NewWriter(w io.Writer, opt Options) *Writer {
	return &Writer{file: newFile(w), opt: opt, pictures: newPictures(), sources: newAttachments()}
}

// Sheet is a page ready to be added to the Writer that drew it.
type Sheet struct {
	w, h     layout.Um
	label    string
	names    []string
	title    string
	contents stream
	used     [2]glyphSet
	pictures []*picture // each once
	sources  []*layout.Source
	files    [][]attachment // of each source
	links    []layout.Link
	number   int // the object of its contents, once it is added
}

// Draw makes a page ready. It may be called from several goroutines, and what
// it takes for long is done in it: the contents are packed, pictures are read.
func (w *Writer) Draw(p *layout.Page) (*Sheet, error) {
	if err := paper.Check(p); err != nil {
		return nil, err
	}
	head, err := pageHead()
	if err != nil {
		return nil, err
	}
	buf := buffers.Get().(*[]byte)
	d := &drawing{out: append((*buf)[:0], head...), pictures: &w.pictures, plain: w.opt.Plain, sheet: &Sheet{w: p.W, h: p.H, label: p.Label, names: p.Names, title: p.Title}}
	d.page(p)
	if d.err != nil {
		return nil, d.err
	}
	d.sheet.contents = pack(d.out, w.opt.Plain)
	for _, s := range p.Sources {
		d.sheet.sources = append(d.sheet.sources, s)
		d.sheet.files = append(d.sheet.files, w.sources.ready(s, w.opt.Plain))
	}
	*buf = d.out
	buffers.Put(buf)
	return d.sheet, nil
}

// buffers are what pages were drawn in, for the next.
var buffers = sync.Pool{New: func() any {
	b := make([]byte, 0, 48<<10)
	return &b
}}

// Add writes a page behind those before it. It is for one goroutine at a time.
func (w *Writer) Add(s *Sheet) error {
	if w.err != nil {
		return w.err
	}
	s.number = w.file.addStream("", s.contents)
	s.contents = stream{}
	for _, p := range s.pictures {
		p.write(w.file)
	}
	for i, source := range s.sources {
		w.sources.write(w.file, source, s.files[i])
	}
	s.sources, s.files = nil, nil
	for i := range w.used {
		w.used[i].join(&s.used[i])
	}
	w.sheets = append(w.sheets, s)
	w.err = w.file.err
	return w.err
}

// Pages draws n pieces of the document, each of as many pages as lay gives for
// it, several at a time, and adds them in order. It runs lay in several
// goroutines, each piece once, and holds a few pieces at most. The error is that
// of the first piece that has one; lay is then not running any more.
func (w *Writer) Pages(n int, lay func(i int) ([]layout.Page, error)) error {
	workers := min(runtime.GOMAXPROCS(0), n)
	q := newQueue(workers * ahead)
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for i := q.next(); i < n; i = q.next() {
				var d drawn
				pages, err := lay(i)
				if err == nil {
					d.sheets, err = w.drawAll(pages)
				}
				d.err = err
				q.put(i, d)
			}
		})
	}
	err := w.addAll(n, q)
	q.close()
	wg.Wait()
	return err
}

// ahead is how many pieces a goroutine may have drawn that wait for one before
// them, which may be long: the contents of a binder. What waits is packed.
const ahead = 16

// longPiece is how many pages of one piece are drawn side by side.
const longPiece = 8

// drawn is a piece on its way.
type drawn struct {
	sheets []*Sheet
	err    error
}

// drawAll draws the pages of a piece. The error is that of the first page that has
// one.
func (w *Writer) drawAll(pages []layout.Page) ([]*Sheet, error) {
	sheets, errs := make([]*Sheet, len(pages)), make([]error, len(pages))
	var last atomic.Int64
	draw := func() {
		for i := int(last.Add(1)) - 1; i < len(pages); i = int(last.Add(1)) - 1 {
			if sheets[i], errs[i] = w.Draw(&pages[i]); errs[i] != nil {
				return
			}
		}
	}
	if len(pages) < longPiece {
		draw()
	} else {
		var wg sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			wg.Go(draw)
		}
		wg.Wait()
	}
	for i, err := range errs {
		if err != nil {
			return nil, &pageError{i, err}
		}
	}
	return sheets, nil
}

// pageError is what is wrong with a page of a piece, counted from 0.
type pageError struct {
	page int
	err  error
}

func (e *pageError) Error() string { return e.err.Error() }
func (e *pageError) Unwrap() error { return e.err }

func (w *Writer) addAll(n int, q *queue) error {
	for i := range n {
		d := q.take(i)
		if at, ok := d.err.(*pageError); ok {
			return fmt.Errorf("page %d: %w", len(w.sheets)+at.page+1, at.err)
		}
		if d.err != nil {
			return d.err
		}
		for _, s := range d.sheets {
			if err := w.Add(s); err != nil {
				return err
			}
		}
	}
	return nil
}

// queue hands out numbers and brings what was made of them back in order, no
// more than its length of them at once.
type queue struct {
	last  atomic.Int64 // handed out
	slots []chan drawn // by number, over and over
	room  chan struct{}
	over  chan struct{}
}

func newQueue(length int) *queue {
	q := &queue{slots: make([]chan drawn, length), room: make(chan struct{}, length), over: make(chan struct{})}
	for i := range q.slots {
		q.slots[i] = make(chan drawn, 1)
	}
	return q
}

// next waits for room and gives the next number; one beyond all when the queue
// is closed.
func (q *queue) next() int {
	select {
	case <-q.over:
		return int(^uint(0) >> 1)
	case q.room <- struct{}{}:
		return int(q.last.Add(1) - 1)
	}
}

func (q *queue) put(i int, d drawn) { q.slots[i%len(q.slots)] <- d }

func (q *queue) take(i int) drawn {
	d := <-q.slots[i%len(q.slots)]
	<-q.room
	return d
}

func (q *queue) close() { close(q.over) }
