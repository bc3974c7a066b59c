//! Pictures for the papers: of few colours, so that the project and its release stay small.

use anyhow::{Context, Result};
use color_quant::NeuQuant;
use png::{BitDepth, ColorType, Compression, Decoder, Encoder};

/// How many colours a picture keeps: what a screen of ours has, and the steps between letters and paper.
const COLOURS: usize = 64;

/// How closely the colours are chosen, from 1, the closest, to 30.
const CLOSELY: i32 = 3;

/// A browser's picture, as PNG, brought down to few colours.
///
/// # Errors
/// When it is no PNG of eight bits a channel.
pub fn of_few_colours(picture: &[u8]) -> Result<Vec<u8>> {
    let mut reader = Decoder::new(std::io::Cursor::new(picture)).read_info().context("it is no PNG")?;
    let mut pixels = vec![0; reader.output_buffer_size().context("it is too large")?];
    let info = reader.next_frame(&mut pixels).context("the PNG is damaged")?;
    pixels.truncate(info.buffer_size());
    let pixels = match (info.color_type, info.bit_depth) {
        (ColorType::Rgba, BitDepth::Eight) => pixels,
        (ColorType::Rgb, BitDepth::Eight) => opaque(&pixels),
        other => anyhow::bail!("a picture of {other:?} is not what a browser takes"),
    };
    let colours = NeuQuant::new(CLOSELY, COLOURS, &pixels);
    let (whole, _) = pixels.as_chunks::<4>();
    let indices: Vec<u8> = whole.iter().map(|pixel| u8::try_from(colours.index_of(pixel))).collect::<Result<_, _>>()?;
    let mut written = Vec::new();
    let mut encoder = Encoder::new(&mut written, info.width, info.height);
    encoder.set_color(ColorType::Indexed);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_palette(colours.color_map_rgb());
    encoder.set_compression(Compression::High);
    encoder.write_header()?.write_image_data(&indices)?;
    Ok(written)
}

/// Pixels with nothing to be seen through.
fn opaque(pixels: &[u8]) -> Vec<u8> {
    let (whole, _) = pixels.as_chunks::<3>();
    whole.iter().flat_map(|[red, green, blue]| [*red, *green, *blue, u8::MAX]).collect()
}
