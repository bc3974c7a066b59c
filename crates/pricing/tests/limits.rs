//! What reading may allocate: no document of 2 MiB, read as any kind, takes over 64 MiB, which is thirty-two times its size. How long it may
//! take is for the benches.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test stops where its own set-up fails")]

mod large;

use peak_alloc::PeakAlloc;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::measure::{DecimalMark, LengthUnit, read_length};
use scantling_pricing::request::Request;

#[global_allocator]
static ALLOCATED: PeakAlloc = PeakAlloc;

const MOST: usize = 64 * 1024 * 1024;

#[test]
fn no_document_of_two_mebibytes_takes_over_sixty_four() {
    let mut read = 0;
    for (name, text) in large::documents() {
        assert!(text.len() <= 2 * 1024 * 1024 && text.len() > 1800 * 1024, "{name}: {}", text.len());
        type Reader = fn(&str);
        let kinds: [(&str, Reader); 6] = [
            ("shop book", |text| drop(ShopBook::read(text))),
            ("price book", |text| drop(PriceBook::read(text))),
            ("brief", |text| drop(Brief::read(text))),
            ("request", |text| drop(Request::read(text))),
            ("mail", |text| drop(Request::read_mail(text))),
            ("length", |text| drop(read_length(text, LengthUnit::Inch, DecimalMark::Point))),
        ];
        for (kind, reader) in kinds {
            let before = ALLOCATED.current_usage();
            ALLOCATED.reset_peak_usage();
            reader(&text);
            let peak = ALLOCATED.peak_usage() - before;
            assert!(peak <= MOST, "{name} as a {kind}: {peak} bytes");
            read += 1;
        }
    }
    assert!(read >= 100, "{read}");
}
