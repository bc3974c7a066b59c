//! Faults of access, found by axe-core in the page as it stands, inside open shadow roots too.

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};
use xtask::browsers::AXE_FOLDER;

use crate::Page;

/// The rules that are asked: those of WCAG 2.2, levels A and AA, with what 2.0 and 2.1 asked before, and what is good practice beyond.
/// Source: the tags that axe-core's own documentation lists.
const TAGS: [&str; 6] = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/// Of the rules, so many have something to look at on any page worth looking at.
const FEWEST_RULES: u64 = 20;

/// Runs the rules and hands back what the driver can carry: for each fault its rule, where, and how to mend it.
///
/// First the page is brought to rest at its top, where the price, which stays in sight, lies over nothing: what a test did before may
/// still be moving it. The lettering of a drawing is left out where axe can't tell what is behind it, which is so of all lettering in
/// pictures.
const RUN: &str = "const [tags, done] = arguments; \
     const told = (rule, node) => [rule.id, node.target.flat().join(' '), node.failureSummary].join('; '); \
     const lettering = (rule, node) => rule.id === 'color-contrast' && node.html.startsWith('<text'); \
     const atRest = async () => { \
         for (let still = 0; still < 3; still += 1) { \
             scrollTo({ top: 0, behavior: 'instant' }); \
             await new Promise(done => setTimeout(done, 50)); \
             if (scrollY > 0) still = -1; \
         } \
     }; \
     atRest().then(() => axe.run(document, { runOnly: { type: 'tag', values: tags }, resultTypes: ['violations', 'incomplete'] })).then( \
         found => done({ rules: found.passes.length, faults: [ \
             ...found.violations.flatMap(rule => rule.nodes.map(node => told(rule, node))), \
             ...found.incomplete.flatMap(rule => rule.nodes.filter(node => !lettering(rule, node)).map(node => `perhaps ${told(rule, node)}`)), \
         ] }), \
         error => done({ error: String(error) }));";

impl Page {
    /// Has the driver put axe into a page that lets no script but its own in.
    ///
    /// # Errors
    /// When axe is not there, or the driver won't.
    pub async fn bring_axe(&self) -> Result<()> {
        let file = xtask::root().join(AXE_FOLDER).join("axe.min.js");
        let script = std::fs::read_to_string(&file).with_context(|| format!("{} can't be read", file.display()))?;
        self.client.execute(&script, Vec::new()).await.context("axe can't be put into the page")?;
        Ok(())
    }

    /// Every fault of access in the page as it stands, those among them that only a person can judge. The page must have been
    /// opened with axe, or axe brought to it.
    ///
    /// # Errors
    /// When the rules can't be run, or hardly any applied.
    pub async fn faults_of_access(&self) -> Result<Vec<String>> {
        let found = self.client.execute_async(RUN, vec![json!(TAGS)]).await.context("axe was stopped")?;
        let faults =
            found.get("faults").and_then(Value::as_array).with_context(|| format!("axe did not run: {found}"))?;
        // A page that is empty has no faults either.
        let rules = found.get("rules").and_then(Value::as_u64).unwrap_or(0);
        if rules < FEWEST_RULES {
            bail!("only {rules} rules had anything to look at");
        }
        Ok(faults.iter().filter_map(Value::as_str).map(str::to_owned).collect())
    }
}
