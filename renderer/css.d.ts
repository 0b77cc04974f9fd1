/** Stylesheets are imported for the bundler's sake only. */
declare module '*.css';
