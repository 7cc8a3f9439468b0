import '@fontsource-variable/atkinson-hyperlegible-next/index.css';
import './style/base.css';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { tryAgain } from './api/queries.ts';
import { restoreTheme } from './frame/theme.ts';
import { Page } from './page.tsx';

restoreTheme();

const queries = new QueryClient({
  defaultOptions: { queries: { staleTime: 30_000, retry: tryAgain, refetchOnWindowFocus: false } },
});

const root = document.getElementById('page');
if (root === null) throw new Error('index.html has no element for the page');
createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={queries}>
      <Page />
    </QueryClientProvider>
  </StrictMode>,
);
