//! Writes the JSON Schema of every document into `shared/schema`; with `--check`, says which file there is not current.
//!
//! What a key means and where it stands among its neighbours is taken from the types themselves, where it is written once.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::ExitCode;

use serde_json::{Value, json};

fn main() -> ExitCode {
    let check = std::env::args().any(|argument| argument == "--check");
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut docs = Docs::new();
    if let Err(error) = read_folder(&top.join("src"), &mut docs) {
        eprintln!("the types can't be read: {error}");
        return ExitCode::FAILURE;
    }
    let folder = top.join("../../shared/schema");
    let mut current = true;
    for (name, schema) in scantling_pricing::schemas::all() {
        let path = folder.join(format!("{name}.json"));
        let mut schema = schema.to_value();
        let title = schema.get("title").and_then(Value::as_str).map(str::to_owned);
        describe(&mut schema, &document_type(title.as_deref().unwrap_or_default()), &docs);
        let text = serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n";
        if fs::read_to_string(&path).ok().as_ref() == Some(&text) {
            continue;
        }
        current = false;
        if check {
            eprintln!("shared/schema/{name}.json is not what the readers say; run cargo xtask schema");
        } else if let Err(error) = fs::create_dir_all(&folder).and_then(|()| fs::write(&path, text)) {
            eprintln!("{} can't be written: {error}", path.display());
            return ExitCode::FAILURE;
        }
    }
    if check && !current { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

/// Of each table of the documents, by the name of its type: its keys in the order they are declared, each with what it says of itself.
type Docs = BTreeMap<String, Vec<(String, String)>>;

fn read_folder(folder: &Path, docs: &mut Docs) -> std::io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            read_folder(&path, docs)?;
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            let file = syn::parse_file(&fs::read_to_string(&path)?).map_err(std::io::Error::other)?;
            docs.extend(file.items.iter().filter_map(table));
        }
    }
    Ok(())
}

fn table(item: &syn::Item) -> Option<(String, Vec<(String, String)>)> {
    let syn::Item::Struct(table) = item else { return None };
    let fields = table.fields.iter().filter_map(|field| Some((field.ident.as_ref()?.to_string(), said(&field.attrs))));
    Some((table.ident.to_string(), fields.collect()))
}

/// The words above a field, as one line without the marks of code.
fn said(attributes: &[syn::Attribute]) -> String {
    let lines = attributes.iter().filter_map(|attribute| match &attribute.meta {
        syn::Meta::NameValue(syn::MetaNameValue {
            path,
            value: syn::Expr::Lit(syn::ExprLit { lit: syn::Lit::Str(line), .. }),
            ..
        }) if path.is_ident("doc") => Some(line.value().trim().to_owned()),
        _ => None,
    });
    let paragraph: Vec<String> = lines.take_while(|line| !line.is_empty()).collect();
    paragraph.join(" ").replace(['[', ']', '`'], "")
}

/// The type of a document, by the title of its schema.
fn document_type(title: &str) -> String {
    match title {
        "A shop book" => "ShopBook",
        "A price book" => "PriceBook",
        "A brief" => "Brief",
        "An estimate" => "Estimate",
        "A request" => "Request",
        "Offers for a piece" => "Offers",
        _ => "Kept",
    }
    .to_owned()
}

/// Puts what each key means, and its place in the order of its table, beside what it may hold.
fn describe(schema: &mut Value, name: &str, docs: &Docs) {
    if let (Some(properties), Some(fields)) =
        (schema.get_mut("properties").and_then(Value::as_object_mut), docs.get(name))
    {
        for (order, (key, said)) in fields.iter().enumerate() {
            if let Some(held) = properties.get_mut(key).and_then(Value::as_object_mut) {
                held.insert("description".into(), json!(said));
                held.insert("x-order".into(), json!(order));
            }
        }
    }
    for (own, held) in schema.get_mut("$defs").and_then(Value::as_object_mut).into_iter().flatten() {
        // A type with another inside it is named after both.
        let bare = own.split_once("Of").map_or(own.as_str(), |(outer, _)| outer);
        let bare = if docs.contains_key(own) { own.as_str() } else { bare };
        describe(held, bare, docs);
    }
}
