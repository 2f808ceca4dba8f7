//! A browser window and what a person does in it.

use std::ffi::OsString;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use fantoccini::elements::Element;
use fantoccini::error::CmdError;
use fantoccini::wd::{Capabilities, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::display::Display;
use crate::driver::Driver;
use crate::engine::Engine;

/// How long anything may take to show.
const PATIENCE: Duration = Duration::from_secs(30);

/// A window's size in CSS pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Width.
    pub width: u32,
    /// Height.
    pub height: u32,
}

/// A phone held upright.
pub const PHONE: Size = Size {
    width: 390,
    height: 844,
};
/// A small screen on the desk.
pub const DESK: Size = Size {
    width: 1280,
    height: 800,
};

/// A running browser.
pub struct Browser {
    /// The WebDriver client, for what is not offered here.
    pub client: Client,
    engine: Engine,
    // ended in this order: the driver and all it started, then its screen and the folder
    _driver: Driver,
    _display: Option<Display>,
    _home: TempDir,
}

/// A question in the browser's own protocol, by way of chromedriver.
#[derive(Debug)]
struct Extra {
    path: &'static str,
    body: Value,
}

impl WebDriverCompatibleCommand for Extra {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!(
            "session/{}/{}",
            session.unwrap_or_default(),
            self.path
        ))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.body.to_string()))
    }
}

/// What a browser is given beside its home.
#[derive(Debug, Clone, Default)]
pub struct Around {
    /// Arguments.
    pub arguments: Vec<String>,
    /// Variables of its environment.
    pub environment: Vec<(OsString, OsString)>,
}

impl Browser {
    /// Starts one with that home.
    pub async fn start(home: TempDir, size: Size) -> Self {
        Self::start_in(home, size, Around::default()).await
    }

    /// The same with something around it.
    pub async fn start_in(home: TempDir, size: Size, around: Around) -> Self {
        let driver = Driver::start(Engine::Chromium, home.path(), &around.environment);
        let mut arguments: Vec<String> = [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-dev-shm-usage",
            // a microphone that beeps, and leave to use it
            "--use-fake-device-for-media-stream",
            "--use-fake-ui-for-media-stream",
        ]
        .map(str::to_owned)
        .into();
        arguments.extend(around.arguments);
        arguments.push(format!(
            "--user-data-dir={}",
            home.path().join("profile").display()
        ));
        let mut capabilities = Capabilities::new();
        capabilities.insert("goog:chromeOptions".into(), json!({ "args": arguments }));
        capabilities.insert("goog:loggingPrefs".into(), json!({ "browser": "ALL" }));
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities)
            .connect(&format!("http://127.0.0.1:{}", driver.port))
            .await
            .expect("Chromium starts (Debian: chromium)");
        let browser = Self {
            client,
            engine: Engine::Chromium,
            _driver: driver,
            _display: None,
            _home: home,
        };
        browser.resize(size).await;
        browser
    }

    /// Starts one of another engine. It knows no command of [`Browser::devtools`].
    pub async fn start_other(engine: Engine, home: TempDir, size: Size) -> Self {
        let (display, environment) = engine.display().unzip();
        let environment = environment.as_ref().map_or(&[][..], |these| &these[..]);
        let driver = Driver::start(engine, home.path(), environment);
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(engine.capabilities())
            .connect(&format!("http://127.0.0.1:{}", driver.port))
            .await
            .expect("the browser starts");
        let browser = Self {
            client,
            engine,
            _driver: driver,
            _display: display,
            _home: home,
        };
        browser.resize(size).await;
        browser
    }

    /// A command of the DevTools protocol, e.g. `Page.addScriptToEvaluateOnNewDocument`.
    pub async fn devtools(&self, command: &str, parameters: Value) -> Value {
        let body = json!({ "cmd": command, "params": parameters });
        let extra = Extra {
            path: "goog/cdp/execute",
            body,
        };
        self.client
            .issue_cmd(extra)
            .await
            .expect("the browser knows the command")
    }

    /// Gives the window's content a size; the window itself, where the engine can do no better.
    pub async fn resize(&self, size: Size) {
        if self.engine != Engine::Chromium {
            let resized = self.client.set_window_size(size.width, size.height);
            return resized.await.expect("the window can be resized");
        }
        let metrics = json!({
            "width": size.width, "height": size.height, "deviceScaleFactor": 1,
            "mobile": size.width < 600,
        });
        self.devtools("Emulation.setDeviceMetricsOverride", metrics)
            .await;
    }

    /// Has every page from now on begin at this instant; the page's clock goes on from there.
    pub async fn begin_at(&self, instant: &str) {
        let script = format!(
            "{{ const real = Date.now; const shift = Date.parse('{instant}') - real.call(Date);\
               Date.now = () => real.call(Date) + shift; }}"
        );
        self.devtools(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({ "source": script }),
        )
        .await;
    }

    /// Slows the processor down by so many times.
    pub async fn slow_down(&self, times: f64) {
        self.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": times }))
            .await;
    }

    /// Opens an address and waits until the journal is open.
    pub async fn open(&self, address: &str) {
        self.client.goto(address).await.expect("the address opens");
        self.ready().await;
    }

    /// Reloads the page and waits until the journal is open.
    pub async fn reload(&self) {
        self.client.refresh().await.expect("reloads");
        self.ready().await;
    }

    /// Waits until the journal is open.
    pub async fn ready(&self) {
        self.find("main[data-ready]").await;
    }

    /// Waits until the page works without a network: its service worker controls it.
    pub async fn offline_ready(&self) {
        let script = "const done = arguments[arguments.length - 1];\
            const there = () => navigator.serviceWorker.controller && done(true);\
            navigator.serviceWorker.ready.then(there);\
            navigator.serviceWorker.addEventListener('controllerchange', there);";
        let controlled = self.client.execute_async(script, vec![]).await;
        assert_eq!(controlled.expect("the script runs"), json!(true));
    }

    /// The element, once it is there.
    pub async fn find(&self, css: &str) -> Element {
        let found = self
            .client
            .wait()
            .at_most(PATIENCE)
            .for_element(Locator::Css(css))
            .await;
        match found {
            Ok(element) => element,
            Err(why) => panic!("{css} does not come: {why}\n{}", self.told().await),
        }
    }

    /// Brings it into view, as a person does, and clicks it.
    pub async fn click(&self, css: &str) {
        let element = self.find(css).await;
        let which = serde_json::to_value(&element).expect("an element's reference");
        let center = "arguments[0].scrollIntoView({ block: 'center', behavior: 'instant' })";
        self.client
            .execute(center, vec![which])
            .await
            .expect("the script runs");
        element.click().await.expect("it can be clicked");
    }

    /// Types into it.
    pub async fn type_into(&self, css: &str, words: &str) {
        self.find(css)
            .await
            .send_keys(words)
            .await
            .expect("it takes keys");
    }

    /// Types into it in place of what stands there.
    pub async fn write_into(&self, css: &str, words: &str) {
        let element = self.find(css).await;
        element.clear().await.expect("it can be emptied");
        element.send_keys(words).await.expect("it takes keys");
    }

    /// Chooses one of a list by its words.
    pub async fn choose(&self, css: &str, words: &str) {
        let element = self.find(css).await;
        element
            .select_by_label(words)
            .await
            .expect("it is in the list");
    }

    /// Waits until its text holds the words.
    pub async fn see(&self, css: &str, words: &str) {
        self.see_within(css, words, PATIENCE.as_secs()).await;
    }

    /// The same with other patience, in seconds.
    pub async fn see_within(&self, css: &str, words: &str, seconds: u64) {
        let until = Instant::now() + Duration::from_secs(seconds);
        loop {
            let text = self.text(css).await;
            if text.as_ref().is_ok_and(|text| text.contains(words)) {
                return;
            }
            assert!(
                Instant::now() < until,
                "{css} says {text:?}, not {words:?}\n{}",
                self.told().await
            );
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    async fn text(&self, css: &str) -> Result<String, CmdError> {
        self.client.find(Locator::Css(css)).await?.text().await
    }

    /// The text of the file that a button offers to save.
    pub async fn saved_by(&self, button: &str) -> String {
        let keep = "window.saved = null; const make = URL.createObjectURL;\
            URL.createObjectURL = (blob) => { window.saved = blob; return make.call(URL, blob); };";
        self.script(keep).await;
        self.click(button).await;
        let read = "const done = arguments[arguments.length - 1]; const wait = setInterval(() => {\
            if (window.saved) { clearInterval(wait); window.saved.text().then(done); } }, 20);";
        let text = self.client.execute_async(read, vec![]).await;
        let text = text.expect("the script runs");
        text.as_str().expect("a text").to_owned()
    }

    /// Runs a script in the page.
    pub async fn script(&self, script: &str) -> Value {
        self.client
            .execute(script, vec![])
            .await
            .expect("the script runs")
    }

    /// What the console said since last asked, errors and warnings only; nothing where the engine does not
    /// tell it.
    pub async fn complaints(&self) -> Vec<String> {
        if self.engine != Engine::Chromium {
            return Vec::new();
        }
        let extra = Extra {
            path: "se/log",
            body: json!({ "type": "browser" }),
        };
        let log = self.client.issue_cmd(extra).await.expect("the log is kept");
        log.as_array()
            .into_iter()
            .flatten()
            .filter(|line| line["level"] == "SEVERE" || line["level"] == "WARNING")
            .map(|line| line["message"].as_str().unwrap_or_default().to_owned())
            .collect()
    }

    async fn told(&self) -> String {
        let source = self.client.source().await.unwrap_or_default();
        let source: String = source.chars().take(4000).collect();
        format!("console: {:#?}\npage: {source}", self.complaints().await)
    }

    /// Takes a picture of the window, to be looked at: `NAME.png` in the folder that
    /// `COMBWRIGHT_SCREENS` names, or in the target folder.
    pub async fn picture(&self, name: &str) {
        let folder = std::env::var_os("COMBWRIGHT_SCREENS").map_or_else(
            || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../target/screens"),
            PathBuf::from,
        );
        std::fs::create_dir_all(&folder).expect("a folder for the pictures");
        let picture = self.client.screenshot().await.expect("a picture");
        std::fs::write(folder.join(format!("{name}.png")), picture).expect("it is written");
    }

    /// The same of the whole page, from its top to its foot.
    pub async fn whole_picture(&self, name: &str) {
        let size = self.stretch().await;
        self.picture(name).await;
        self.resize(size).await;
    }

    /// Makes the window as high as the page, so that nothing lies under the navigation at its foot;
    /// gives the size that it had.
    pub async fn stretch(&self) -> Size {
        let high = "return [innerWidth, innerHeight, document.documentElement.scrollHeight]";
        let sizes = self.script(high).await;
        let [width, height, whole] =
            [0, 1, 2].map(|at| sizes[at].as_u64().unwrap_or_default() as u32);
        let size = Size { width, height };
        self.resize(Size {
            height: whole.max(height),
            ..size
        })
        .await;
        size
    }

    /// Ends it.
    pub async fn end(self) {
        let _ = self.client.close().await;
    }
}
