//! The release folder as one file to download: a ZIP archive, as APPNOTE 6.3.3 lays it out
//! (<https://pkware.cachefly.net/webdocs/APPNOTE/APPNOTE-6.3.3.TXT>, sections 4.3.7, 4.3.12 and 4.3.16).
//!
//! Nothing of the machine is in it: no time, no owner, no rights, and the files stand in order.

use std::fs;
use std::io::Write;
use std::path::Path;

use anyhow::Result;
use flate2::write::DeflateEncoder;
use flate2::{Compression, Crc};

/// The first day a ZIP archive can name, 1 January 1980, at midnight.
const DAY: u16 = 1 << 5 | 1;

/// Names are UTF-8; contents are deflated; version 2.0 is enough to unpack it.
const FLAGS: u16 = 1 << 11;
const DEFLATED: u16 = 8;
const VERSION: u16 = 20;

/// One file of the archive.
struct Entry {
    name: String,
    crc: u32,
    packed: u32,
    plain: u32,
    at: u32,
}

/// Packs these files of a folder, each in a folder of this name.
pub(super) fn pack(folder: &Path, top: &str, files: &[String]) -> Result<Vec<u8>> {
    let (mut out, mut entries) = (Vec::new(), Vec::new());
    for file in files {
        let plain = fs::read(folder.join(file))?;
        let mut crc = Crc::new();
        crc.update(&plain);
        let mut packer = DeflateEncoder::new(Vec::new(), Compression::best());
        packer.write_all(&plain)?;
        let packed = packer.finish()?;
        let entry = Entry {
            name: format!("{top}/{file}"),
            crc: crc.sum(),
            packed: packed.len().try_into()?,
            plain: plain.len().try_into()?,
            at: out.len().try_into()?,
        };
        out.extend(0x0403_4b50_u32.to_le_bytes());
        entry.described(&mut out)?;
        out.extend(entry.name.as_bytes());
        out.extend(packed);
        entries.push(entry);
    }
    let start = out.len();
    for entry in &entries {
        out.extend(0x0201_4b50_u32.to_le_bytes());
        out.extend(VERSION.to_le_bytes());
        entry.described(&mut out)?;
        // No comment, the first disk, no attributes inside or outside.
        out.extend([0; 10]);
        out.extend(entry.at.to_le_bytes());
        out.extend(entry.name.as_bytes());
    }
    let (count, length): (u16, u32) = (entries.len().try_into()?, (out.len() - start).try_into()?);
    out.extend(0x0605_4b50_u32.to_le_bytes());
    out.extend([0; 4]);
    out.extend(count.to_le_bytes());
    out.extend(count.to_le_bytes());
    out.extend(length.to_le_bytes());
    out.extend(u32::try_from(start)?.to_le_bytes());
    out.extend([0; 2]);
    Ok(out)
}

impl Entry {
    /// What stands alike before the file and in the list at the end, the length of what follows last.
    fn described(&self, out: &mut Vec<u8>) -> Result<()> {
        for number in [VERSION, FLAGS, DEFLATED, 0, DAY] {
            out.extend(number.to_le_bytes());
        }
        for number in [self.crc, self.packed, self.plain] {
            out.extend(number.to_le_bytes());
        }
        out.extend(u16::try_from(self.name.len())?.to_le_bytes());
        out.extend([0; 2]);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    /// What unpacks it: each file's name and bytes, by the list at the end.
    fn unpacked(archive: &[u8]) -> Vec<(String, Vec<u8>)> {
        let short = |at: usize| usize::from(u16::from_le_bytes([archive[at], archive[at + 1]]));
        let long = |at: usize| short(at) + short(at + 2) * 65_536;
        let end = archive.len() - 22;
        let (mut at, mut found) = (long(end + 16), Vec::new());
        for _ in 0..short(end + 10) {
            let (packed, name, local) = (long(at + 20), short(at + 28), long(at + 42));
            let start = local + 30 + short(local + 26) + short(local + 28);
            let mut plain = Vec::new();
            flate2::read::DeflateDecoder::new(&archive[start..start + packed]).read_to_end(&mut plain).unwrap();
            assert_eq!(plain.len(), long(at + 24));
            found.push((String::from_utf8_lossy(&archive[at + 46..at + 46 + name]).into_owned(), plain));
            at += 46 + name;
        }
        assert_eq!(at, end);
        found
    }

    #[test]
    fn what_is_packed_comes_out_again_and_the_same_files_give_the_same_bytes() {
        let folder = crate::shell::root().join("crates/xtask/release");
        let files = ["START.html".to_owned(), "start.css".to_owned()];
        let archive = pack(&folder, "release", &files).unwrap();
        assert_eq!(pack(&folder, "release", &files).unwrap(), archive);
        let found = unpacked(&archive);
        assert_eq!(found.len(), 2);
        for ((name, bytes), file) in found.iter().zip(&files) {
            assert_eq!(*name, format!("release/{file}"));
            assert_eq!(*bytes, fs::read(folder.join(file)).unwrap());
        }
    }
}
