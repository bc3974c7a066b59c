//! What is said where an estimate is kept, shared, printed and sent.

use super::{counted, sentences, words};
use crate::words::{Word, Words};

words! {
    PASS_ON = "pass-on";
    KEEP = "keep";
    LINK = "link";
    PRINT = "print";
    ASK = "ask";
    SHARE = "share";
    LINK_LABEL = "link.label";
    LINK_HINT = "link.hint";
    LINK_COPIED = "link.copied";
    LINK_SELECTED = "link.selected";
    LINK_TOO_LONG = "link.too-long";
    LINK_DAMAGED = "link.damaged";
    LINK_NEWER = "link.newer";
    LINK_PIECE_GONE = "link.piece-gone";
    OPENED_BY_LINK = "link.opened";
    NOT_CURRENT = "not-current";
    NO_DAY = "no-day";
    PRICE_TOO_LARGE = "price.too-large";
    SHARED = "shared";
    NOT_SHARED = "shared.not";
    KEPT = "kept";
    KEPT_HINT = "kept.hint";
    KEPT_NOW = "kept.now";
    KEPT_BEFORE = "kept.before";
    KEPT_WOOD = "kept.wood";
    KEPT_WEEKS = "kept.weeks";
    KEPT_ON = "kept.on";
    NO_PLACE = "kept.no-place";
    COLLECTED = "kept.collected";
    NOT_NOW = "kept.not-now";
    LEFT_AS_IT_IS = "kept.left";
    STORE_MISSING = "store.missing";
    STORE_FULL = "store.full";
    OPEN = "open";
    OPENED = "opened";
    PIECE_GONE = "opened.piece-gone";
    DELETE = "delete";
    DELETED = "deleted";
    PUT_BACK = "put-back";
    IS_BACK = "is-back";
    ASK_HINT = "ask.hint";
    NAME = "ask.name";
    MAIL = "ask.mail";
    MESSAGE = "ask.message";
    MESSAGE_HINT = "ask.message.hint";
    PRIVACY = "ask.privacy";
    BY_MAIL = "ask.by-mail";
    COPY_TEXT = "ask.copy";
    SAVE_FILE = "ask.save";
    NAME_MISSING = "ask.name.missing";
    NAME_LONG = "ask.name.long";
    MAIL_MISSING = "ask.mail.missing";
    MAIL_WRONG = "ask.mail.wrong";
    MESSAGE_LONG = "ask.message.long";
    CONSENT_MISSING = "ask.consent.missing";
    SENDING = "sending";
    SENT = "sent";
    WAITS = "waits";
    SEND_FAILED = "send.failed";
    MAIL_OPENED = "mail.opened";
    MAIL_PASTE = "mail.paste";
    MAIL_PASTE_BY_HAND = "mail.paste-by-hand";
    MAIL_AGAIN = "mail.again";
    TEXT_COPIED = "text.copied";
    TEXT_SELECTED = "text.selected";
    TEXT_LABEL = "text.label";
    WAITING = "waiting";
    SEND_NOW = "waiting.send";
    DISCARD = "waiting.discard";
    DISCARDED = "waiting.discarded";
    WAITED_SENT = "waiting.sent";
    WAITED_STILL = "waiting.still";
    LETTER_OPENS = "letter.opens";
    FOR_THE_PROGRAM = "letter.program";
    PASTE_HERE = "letter.paste";
    ESTIMATED_ON = "paper.day";
    PRICES_OF = "paper.edition";
}

sentences! {
    about(what, piece, day) = "about";
    kept_then(day, price) = "kept.then";
    some_weeks(least, most) = "kept.weeks.span";
    prices_since(then, now) = "link.prices-since";
    no_longer_offered(what) = "opened.no-longer";
    consent(shop) = "ask.consent";
    send_to(shop) = "ask.send";
    write_to(shop, mail) = "mail.address";
    sending_again(attempt, attempts) = "sending.again";
    refused(status) = "send.refused";
    saved(mail) = "saved";
    subject(piece, size) = "letter.subject";
    told(low, high, likely, edition) = "letter.told";
}

counted! {
    newer[count] = "kept.newer";
    damaged[count] = "kept.damaged";
    waiting_requests[count] = "waiting.count";
    waiting_newer[count] = "waiting.newer";
    waiting_damaged[count] = "waiting.damaged";
}

/// A count as a sentence.
type Told = fn(&Words, &str, &str) -> String;

/// Kept records that can't be shown; nothing where there are none.
pub(crate) fn unreadable_kept(words: &Words, of_newer: usize, of_damaged: usize) -> Option<String> {
    unreadable(words, [(of_newer, newer), (of_damaged, damaged)])
}

/// Requests that wait and can't be sent from here; nothing where there are none.
pub(crate) fn unreadable_waiting(words: &Words, of_newer: usize, of_damaged: usize) -> Option<String> {
    unreadable(words, [(of_newer, waiting_newer), (of_damaged, waiting_damaged)])
}

fn unreadable(words: &Words, counts: [(usize, Told); 2]) -> Option<String> {
    let told = |(count, tell): (usize, Told)| {
        let digits = count.to_string();
        (count > 0).then(|| tell(words, &digits, &words.number(&digits)))
    };
    let all: Vec<String> = counts.into_iter().filter_map(told).collect();
    (!all.is_empty()).then(|| [all.join(" "), words.say(LEFT_AS_IT_IS)].join(" "))
}
