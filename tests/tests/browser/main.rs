//! The demo page and the element in real browsers. Each test is written once and runs in every engine.
#![expect(
    clippy::indexing_slicing,
    reason = "a JSON value gives null for what is not there, and a test stops where its own set-up fails"
)]

mod access;
mod access_more;
mod announced;
mod buyer;
mod cells;
mod clock;
mod columns;
mod contrast;
mod country;
mod drawing;
mod element;
mod embedding;
mod first_visit;
mod forced;
mod form;
mod handed_over;
mod hostile;
mod hosts;
mod journey;
mod keyboard;
mod languages;
mod later;
mod ledger;
mod maker;
mod narrow;
mod opening;
mod paper;
mod places;
mod safe;
mod shop;
mod shops;
mod still;
mod threats;
mod tuning;
mod unaided;
mod unaided_more;
mod watch;
mod work;
mod year;

use std::io::Write;
use std::time::Duration;

use anyhow::{Context, Result};
use fantoccini::error::CmdError;
use scantling_tests::{Engine, Page};
use serde_json::json;

/// The widget shows a price, and the buyer can't change it yet.
const PRICED: &str = "!!root(0)?.querySelector('.range')?.innerText";

/// The widget shows a price, and the form.
const READY: &str = "!!root(0)?.querySelector('.range')?.innerText && !!root(0).querySelector('form.form')";

/// The widget shows all that it shows by itself: what moves the price comes last, once nothing has changed for a while.
const AT_REST: &str = "!!root(0)?.querySelector('.moves button')";

/// The last the page was told of the nth widget is the price that stands there, to the digit: a price of whole amounts.
fn told_what_is_shown(widget: usize) -> String {
    format!(
        "(shown => Number(told.at(-1)?.[1].likely) === Number(shown?.textContent.replace(/\\D/g, '')))( \
         root({widget}).querySelector('.span.delivered .likely') ?? root({widget}).querySelector('.span.workshop .likely'))"
    )
}

/// The longest a whole visit may take: a browser that has stopped answering must fail the test, not hold it up for ever.
const VISIT: Duration = Duration::from_secs(240);

/// Runs a visit in an engine; in `WebKit` once more where the browser itself has ended: on a machine with no graphics it paints by a library of
/// the system's that has been seen to crash. A second end is told as a failure, and so is anything else at once.
async fn visited(engine: Engine, visit: impl AsyncFn(Engine) -> Result<()>) -> Result<()> {
    let done = within(visit(engine)).await;
    let gone = |error: &anyhow::Error| error.downcast_ref::<CmdError>().is_some_and(CmdError::is_invalid_session_id);
    if engine != Engine::WebKit || !done.as_ref().is_err_and(gone) {
        return done;
    }
    // Past what the test harness keeps to itself, so that it stands among the results.
    let running = std::thread::current();
    writeln!(std::io::stderr(), "{}: the browser ended by itself; once more", running.name().unwrap_or_default())?;
    within(visit(engine)).await
}

/// Runs a visit within its time.
async fn within(visit: impl Future<Output = Result<()>>) -> Result<()> {
    let done = tokio::time::timeout(VISIT, visit).await.context("the browser stopped answering")?;
    done.map_err(|error| match error.downcast_ref::<CmdError>().map(|refused| format!("{refused:?}")) {
        // WebKit's driver leaves the message empty; what kind of refusal it is says more.
        Some(kind) => error.context(kind),
        None => error,
    })
}

/// Nothing went wrong that a maker would find in the browser's console.
async fn nothing_complained(page: &Page) -> Result<()> {
    assert_eq!(page.eval("refused").await?, json!([]), "the policy refused something");
    assert_eq!(page.complaints().await?, Vec::<String>::new());
    assert_eq!(page.fetched_elsewhere().await?, Vec::<String>::new());
    Ok(())
}

/// A test for each function, in one engine.
macro_rules! tests {
    ($engine:ident { $($file:ident::$test:ident,)* }) => {
        $(
            #[tokio::test]
            async fn $test() -> anyhow::Result<()> {
                crate::visited(crate::Engine::$engine, crate::$file::$test).await
            }
        )*
    };
}

/// A module of tests for each engine, so that the tests of one can be asked for by its name.
macro_rules! in_each {
    ($($(#[$when:meta])? $module:ident = $engine:ident),*; $tests:tt) => {
        $($(#[$when])? mod $module { tests!($engine $tests); })*
    };
}

in_each! { chromium = Chromium, firefox = Firefox, webkit = WebKit; {
    access::axe_finds_nothing_in_any_state,
    announced::a_price_is_said_once_typing_rests_and_nothing_else_is,
    buyer::the_demo_page_shows_a_delivered_range_and_changes_it_at_every_keystroke,
    buyer::a_buyer_chooses_by_keyboard_and_pointer_and_reads_lines_that_add_up,
    buyer::a_saving_is_undone_and_what_was_typed_since_stays,
    buyer::two_widgets_on_a_page_keep_apart_and_the_script_may_load_twice,
    buyer::an_element_can_be_moved_changed_and_taken_away,
    buyer::the_fallback_stays_where_the_policy_blocks_wasm,
    buyer::the_fallback_stays_where_the_book_is_missing,
    buyer::the_fallback_stays_where_the_book_is_broken_and_the_command_that_names_the_fault_is_said,
    columns::in_columns_of_one_window_each_lays_out_by_its_own_width,
    drawing::a_size_is_pulled_by_the_mouse_also_past_the_sheet_and_stops_at_its_limit,
    drawing::handles_are_sliders_for_the_keyboard,
    drawing::a_figure_turns_into_a_field,
    drawing::the_sheet_says_what_it_shows_and_stands_still_while_sizes_change,
    drawing::taken_away_it_stops_listening,
    journey::kept_it_is_there_after_a_reload_and_its_link_opens_on_a_fresh_page_and_is_sent,
    journey::without_a_connection_it_waits_and_is_sent_once_there_is_one,
    journey::a_busy_address_is_asked_again_and_one_that_refuses_is_told,
    journey::the_mail_link_and_the_text_hold_the_whole_request,
    journey::the_system_s_sharing_and_a_file_take_the_same_request,
    journey::deleted_it_can_be_put_back_and_what_can_t_be_read_is_left_as_it_is,
    journey::printing_takes_the_estimate_alone_onto_paper,
    element::far_down_the_page_it_fetches_nothing_until_it_is_nearly_seen,
    element::it_starts_at_once_where_it_is_told_to,
    element::each_attribute_is_a_property_and_there_is_one_place_for_its_value,
    element::two_hundred_that_come_and_go_leave_nothing_behind,
    element::from_right_to_left_all_is_mirrored_but_the_drawing,
    embedding::every_attribute_is_tried_on_the_page_that_lists_them,
    embedding::events_and_the_page_s_own_words_are_tried_there,
    embedding::every_custom_property_and_every_part_reaches_the_widget,
    element::a_page_may_ask_for_the_price_alone_and_give_the_country,
    form::what_comes_second_is_folded_away_and_unfolds_for_a_fault_or_a_link,
    form::a_buyer_reads_what_each_choice_means_before_making_it,
    form::the_estimate_says_whom_it_has_room_for_and_why_it_is_a_range,
    handed_over::what_the_widget_copies_saves_and_posts_is_taken_in_at_the_price_that_was_seen,
    later::what_the_price_does_not_need_is_fetched_once_it_is_there,
    later::from_a_host_that_knows_no_wasm_all_of_it_comes,
    later::without_it_the_price_stands_and_it_can_be_tried_again,
    hosts::the_element_s_files_may_lie_on_another_host_that_allows_it,
    hosts::a_page_in_a_folder_brings_the_script_and_the_element_comes_later,
    hosts::a_block_in_a_frame_prices_keeps_and_gives_a_link_that_opens,
    hostile::no_page_changes_the_widget_and_the_widget_changes_no_page,
    hostile::a_page_keeps_its_own_element_of_the_same_name,
    hostile::a_page_may_take_it_away_and_put_it_back_all_the_time,
    keyboard::the_tab_key_walks_the_whole_form_there_and_back_and_the_focus_is_seen,
    keyboard::a_piece_is_chosen_sized_and_sent_on_its_way_by_keys_alone,
    keyboard::a_saving_is_taken_and_undone_by_keys_and_the_focus_stays_in_the_widget,
    languages::a_page_is_answered_in_its_language_and_in_english_where_there_are_no_words_in_it,
    maker::from_the_release_folder_alone_a_new_price_is_on_a_page_of_its_own,
    narrow::nothing_is_cut_off_at_280_pixels,
    narrow::nothing_is_cut_off_at_a_zoom_of_400_per_cent,
    places::another_way_that_is_picked_brings_the_total_along,
    places::buyers_in_five_places_see_the_ways_that_reach_them_and_sums_that_add_up,
    places::where_postal_codes_lie_is_asked_for_once_a_destination_is_given,
    shop::a_rate_is_edited_seen_in_the_basket_undone_and_kept_over_a_reload,
    shop::axe_finds_nothing_in_the_maker_s_page,
    shop::a_book_that_was_cut_off_is_looked_at_until_the_maker_goes_on_with_it,
    shop::it_opens_from_disk_and_keeps_what_was_edited_there,
    shop::every_section_opens_and_says_what_it_is,
    shop::offers_and_requests_are_reckoned_and_a_price_book_published,
    shops::shops_are_copied_named_opened_put_away_and_brought_back,
    shops::all_shops_go_into_one_file_and_come_back_where_the_browser_forgot,
    shops::a_served_page_is_kept_and_opens_with_no_server,
    shops::from_disk_the_page_asks_for_nothing,
    safe::where_the_browser_is_full_it_is_told_and_kept_once_there_is_room,
    safe::where_the_browser_keeps_nothing_it_is_told_and_the_file_holds_all,
    safe::of_two_windows_the_maker_says_whose_book_is_the_newest,
    safe::a_state_that_was_cut_off_is_passed_over_told_and_left,
    safe::a_book_of_a_newer_page_is_looked_at_and_the_one_before_comes_back,
    safe::whatever_the_clock_does_the_newest_state_is_the_newest_and_no_hour_is_made_up,
    threats::a_request_that_is_full_of_markup_stays_words_on_the_maker_s_page,
    threats::the_maker_s_page_can_neither_fetch_nor_send_nor_load_a_script,
    unaided::a_year_s_acts_are_done_by_keys_alone,
    unaided_more::slabs_designs_and_a_sweep_are_worked_by_keys_alone,
    unaided_more::a_cut_files_and_shops_are_worked_by_keys_alone,
    watch::whatever_goes_wrong_on_a_page_is_seen,
    work::a_request_comes_in_dropped_and_opened_as_a_file,
    year::a_whole_year_is_worked_on_the_page_and_its_sums_are_the_command_s,
    cells::what_is_pasted_and_walked_through_are_the_rows_that_are_found,
    clock::a_job_is_clocked_by_keys_alone_over_a_reload_and_a_clock_set_back_is_told,
} }

// What a maker does in tables, in which engines hardly differ: their focus, stores, clocks and printers are tried above. Three times over,
// it would hold up every change, so the two others follow at night.
in_each! { chromium_by_day = Chromium, #[cfg(feature = "night")] firefox_by_night = Firefox, #[cfg(feature = "night")] webkit_by_night = WebKit; {
    first_visit::whoever_comes_first_is_told_whose_book_it_is_until_it_is_put_away,
    first_visit::a_table_without_rows_and_a_basket_without_prices_say_why,
    ledger::a_cut_is_taken_out_of_its_slab_once_and_undone,
    ledger::a_payment_is_marked_corrected_doubted_and_undone,
    ledger::an_old_rate_is_flagged_where_something_hangs_on_it,
    opening::what_is_edited_at_once_is_compared_with_the_book_as_it_was_opened,
    country::the_book_is_brought_into_another_currency_as_one_edit,
    country::a_metric_shop_reads_requests_and_jobs_in_its_own_units,
    access::axe_finds_nothing_in_the_dark,
    shop::axe_finds_nothing_in_the_maker_s_page_in_the_dark,
    shop::the_basket_holds_the_maker_s_own_pieces,
    shop::the_basket_is_delivered_to_places_that_are_in_the_book,
    shop::what_becomes_public_is_listed_and_told_from_what_was_written_last,
    shop::the_lines_for_a_page_are_copied_and_a_page_to_try_them_is_written,
    safe::an_earlier_state_tells_when_it_was_kept_and_what_differs_from_it,
    tuning::a_design_is_drawn_and_proved_as_it_is_typed,
    tuning::joints_faces_and_options_are_edited_beside_the_drawing,
    tuning::a_design_is_started_from_another_and_taken_out_again,
    tuning::a_slab_is_drawn_and_a_cut_of_it_reckoned,
    tuning::a_rate_is_swept_and_what_a_price_hangs_on_is_ranked,
    tuning::currencies_are_pasted_flagged_when_old_and_undone,
    tuning::a_word_is_found_in_any_table_and_led_to,
    work::axe_finds_nothing_in_the_running_work,
    work::a_link_to_an_estimate_is_taken_in_and_says_once_it_is_outdated,
} }

/// What the other engines' drivers have no command for: fingers, and to lay the page out as for paper and see what is there.
mod chromium_alone {
    tests!(Chromium {
        access_more::axe_finds_nothing_in_rarer_states,
        drawing::a_size_is_pulled_by_a_finger_and_the_page_does_not_scroll_away,
        embedding::the_page_to_try_it_on_can_be_used_by_all,
        tuning::work_that_takes_long_shows_how_far_it_is,
        forced::in_forced_colours_bars_focus_and_edges_are_seen,
        maker::the_page_to_start_at_and_the_papers_can_be_read_by_all,
        still::nothing_moves_by_itself,
        shops::the_browser_finds_it_fit_to_be_installed,
        work::nothing_of_the_running_work_is_cut_off_at_320_pixels,
        paper::printed_it_shows_what_was_chosen_and_no_controls,
        paper::an_estimate_is_one_page_with_all_that_counts_on_it,
        paper::a_quote_of_the_maker_s_page_has_the_sheet_to_itself,
        paper::the_maker_s_page_keeps_to_the_sheet_in_ink_however_dark_it_is,
    });
}
